/** Renames a part wherever it is used, also in files that are not open: the client library changes open files only. */
import { LSPPlugin } from '@codemirror/lsp-client';
import { Facet } from '@codemirror/state';
import { type EditorView, type KeyBinding, showDialog } from '@codemirror/view';
import type { WorkspaceEdit } from 'vscode-languageserver-protocol';
import type { Edits } from './edits.ts';

export const editsOf = Facet.define<Edits, Edits | undefined>({ combine: ([edits]) => edits });

export function rename(view: EditorView): boolean {
  const word = view.state.wordAt(view.state.selection.main.head);
  const plugin = LSPPlugin.get(view);
  const edits = view.state.facet(editsOf);
  if (word === null || plugin === null || edits === undefined) return false;
  const { close, result } = showDialog(view, {
    label: 'New name',
    input: { name: 'name', value: view.state.sliceDoc(word.from, word.to) },
    focus: true,
    submitLabel: 'Rename',
    top: true,
  });
  void result.then(async (form) => {
    view.dispatch({ effects: close });
    view.focus();
    const input = form?.elements.namedItem('name');
    if (!(input instanceof HTMLInputElement)) return;
    plugin.client.sync();
    const isStillSo = edits.aboutTextsNow();
    try {
      const params = {
        textDocument: { uri: plugin.uri },
        position: plugin.toPosition(word.from),
        newName: input.value,
      };
      const edit = await plugin.client.request<object, WorkspaceEdit | null>('textDocument/rename', params);
      if (edit === null) return;
      if (!isStillSo(edit)) throw new Error('the text has changed meanwhile');
      edits.apply(edit, 'rename');
    } catch (error) {
      plugin.reportError('This name cannot be changed', error);
    }
  });
  return true;
}

export const renameKeymap: readonly KeyBinding[] = [{ key: 'F2', run: rename, preventDefault: true }];
