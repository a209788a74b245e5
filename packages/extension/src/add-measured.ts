import { commands, type Disposable, SnippetString, window } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { ADD_MEASURED, measuredRequest } from '../../language/src/editor/requests/protocol.ts';
import { reasonOf } from './error-reason.ts';
import { subjectMeant } from './sheet/open-sheet.ts';
import { fieldsOf } from './sheet/view-messages.ts';

/** Offers the block for what was measured on a build, with the readings that are expected as tab stops. */
export const addMeasured = (client: BaseLanguageClient): Disposable =>
  commands.registerCommand(ADD_MEASURED, async (asked: unknown) => {
    const { uri, build } = fieldsOf((await subjectMeant(asked, client)) ?? {});
    if (typeof uri !== 'string' || typeof build !== 'string') return;
    try {
      const { asUri, asRange } = client.protocol2CodeConverter;
      const editor = await window.showTextDocument(asUri(uri));
      const { version } = editor.document;
      const { range, snippet } = await client.sendRequest(measuredRequest, { uri, build });
      if (editor.document.version !== version) throw new Error('the text has changed meanwhile');
      await editor.insertSnippet(new SnippetString(snippet), asRange(range), {
        undoStopBefore: true,
        undoStopAfter: true,
      });
    } catch (error) {
      await window.showErrorMessage(`Nothing was added: ${reasonOf(error)}`);
    }
  });
