/** Buttons that need nothing of the page but the editor: which part a narrow screen shows, and what a touch screen has no keys for. */
import { startCompletion } from '@codemirror/autocomplete';
import { formatDocument, jumpToDefinition } from '@codemirror/lsp-client';
import type { EditorView } from '@codemirror/view';
import { byId } from './element.ts';
import { rename } from './rename-part.ts';

/** What a button inside is for, by its `data-` attribute of this name. */
const chosenBy = ({ target }: Event, name: 'view' | 'act'): string | undefined =>
  target instanceof Element ? target.closest<HTMLElement>(`[data-${name}]`)?.dataset[name] : undefined;

export function offerViews(): void {
  const views = byId('views');
  views.addEventListener('click', (event) => {
    const view = chosenBy(event, 'view');
    const main = document.querySelector('main');
    if (view === undefined) return;
    if (main !== null) main.dataset.view = view;
    for (const one of views.querySelectorAll<HTMLElement>('button')) {
      one.setAttribute('aria-pressed', String(one.dataset.view === view));
    }
  });
}

const ACTS: Readonly<Record<string, (view: EditorView) => boolean>> = {
  complete: startCompletion,
  rename,
  definition: jumpToDefinition,
  format: formatDocument,
};

export function offerKeys(editor: EditorView): void {
  byId('keys').addEventListener('click', (event) => {
    const act = chosenBy(event, 'act');
    if (act === undefined) return;
    editor.focus();
    ACTS[act]?.(editor);
  });
}
