import { commands, type Disposable, type ExtensionContext, window } from 'vscode';
import { type BaseLanguageClient, type Position, ReferencesRequest } from 'vscode-languageclient';
import {
  ADD_MEASURED,
  COMPARE_COMMITTED,
  COMPARE_PACKS,
  OPEN_SHEET,
  RENAME_AT,
  SHOW_CHOICE,
  SHOW_EXPLANATION,
  SHOW_STEPS,
  SHOW_USES,
  TRY_LINES,
} from '../../language/src/editor/requests/protocol.ts';
import { addMeasured } from './add-measured.ts';
import { provideAnswerPages } from './answer-pages.ts';
import { provideComparisons } from './committed-pages.ts';
import { EXPLANATIONS } from './explanation-pages.ts';
import { packComparisons } from './pack-pages.ts';
import type { CheckedFiles } from './rechecked.ts';
import { shortlistMeant, subjectMeant } from './sheet/open-sheet.ts';
import { CHOICE, SHEET } from './sheet/view-kinds.ts';
import { fieldsOf } from './sheet/view-messages.ts';
import { Views } from './sheet/views.ts';
import { steps, trials } from './trial-pages.ts';

/** What lenses, and links in hovers, may call. */
export const CLIENT_COMMANDS: readonly string[] = [
  OPEN_SHEET,
  ADD_MEASURED,
  SHOW_USES,
  SHOW_EXPLANATION,
  COMPARE_PACKS,
  COMPARE_COMMITTED,
  SHOW_CHOICE,
  TRY_LINES,
  RENAME_AT,
  SHOW_STEPS,
];

export function offerClientCommands(
  context: ExtensionContext,
  client: BaseLanguageClient,
  checked: CheckedFiles,
): Disposable[] {
  const sheets = new Views(SHEET, context, client, checked);
  const choices = new Views(CHOICE, context, client, checked);
  return [
    sheets,
    choices,
    addMeasured(client),
    ...provideAnswerPages(EXPLANATIONS, client, checked),
    ...provideAnswerPages(packComparisons(client), client, checked),
    ...provideAnswerPages(trials(client), client, checked),
    ...provideAnswerPages(steps(client), client, checked),
    ...provideComparisons(client),
    commands.registerCommand(OPEN_SHEET, async (requested: unknown) => {
      const subject = await subjectMeant(requested, client);
      if (subject !== undefined) sheets.open(subject);
    }),
    commands.registerCommand(SHOW_CHOICE, async (requested: unknown) => {
      const shortlist = await shortlistMeant(requested, client);
      if (shortlist !== undefined) choices.open(shortlist);
    }),
    commands.registerCommand(SHOW_USES, (requested: unknown) => showUses(requested, client)),
    commands.registerCommand(RENAME_AT, (requested: unknown) => renameAt(requested, client)),
  ];
}

/** A place in a text, of what the server sends. */
function placeOf(requested: unknown): { uri: string; at: Position } | undefined {
  const { uri, position } = fieldsOf(requested);
  const { line, character } = fieldsOf(position);
  const isPlace = typeof uri === 'string' && typeof line === 'number' && typeof character === 'number';
  return isPlace ? { uri, at: { line, character } } : undefined;
}

/** Who uses the part at a position, peeked at from there. */
async function showUses(requested: unknown, client: BaseLanguageClient): Promise<void> {
  const { uri, at } = placeOf(requested) ?? {};
  if (uri === undefined || at === undefined) return;
  const params = { textDocument: { uri }, position: at, context: { includeDeclaration: false } };
  const found = (await client.sendRequest(ReferencesRequest.type, params)) ?? [];
  const { asUri, asPosition, asLocation } = client.protocol2CodeConverter;
  await window.showTextDocument(asUri(uri));
  await commands.executeCommand('editor.action.showReferences', asUri(uri), asPosition(at), found.map(asLocation));
}

/** What a refactoring named gets a name of the person's choice. */
async function renameAt(requested: unknown, client: BaseLanguageClient): Promise<void> {
  const { uri, at } = placeOf(requested) ?? {};
  if (uri === undefined || at === undefined) return;
  const { asUri, asPosition } = client.protocol2CodeConverter;
  await commands.executeCommand('editor.action.rename', [asUri(uri), asPosition(at)]);
}
