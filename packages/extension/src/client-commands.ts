import { commands, type Disposable, type ExtensionContext, window } from 'vscode';
import { type BaseLanguageClient, type Position, ReferencesRequest } from 'vscode-languageclient';
import { ADD_MEASURED, addMeasured } from './add-measured.ts';
import { provideAnswerPages } from './answer-pages.ts';
import type { CheckedFiles } from './checked.ts';
import { CHOICES, SHOW_CHOICE, TRY_LINES, trials } from './choices.ts';
import { COMPARE_COMMITTED, provideComparisons } from './committed.ts';
import { EXPLANATIONS, SHOW_EXPLANATION } from './explanations.ts';
import { COMPARE_PACKS, packComparisons } from './packs.ts';
import { fieldsOf } from './sheet/messages.ts';
import { subjectOf } from './sheet/open-sheet.ts';
import { Sheets } from './sheet/sheets.ts';

const OPEN_SHEET = 'fettle.openSheet';
const SHOW_USES = 'fettle.showUses';

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
];

export function offerClientCommands(
  context: ExtensionContext,
  client: BaseLanguageClient,
  checked: CheckedFiles,
): Disposable[] {
  const sheets = new Sheets(context, client, checked);
  return [
    sheets,
    addMeasured(client),
    ...provideAnswerPages(EXPLANATIONS, client, checked),
    ...provideAnswerPages(packComparisons(client), client, checked),
    ...provideAnswerPages(CHOICES, client, checked),
    ...provideAnswerPages(trials(client), client, checked),
    ...provideComparisons(client),
    commands.registerCommand(OPEN_SHEET, async (requested: unknown) => {
      const subject = await subjectOf(requested, client);
      if (subject !== undefined) sheets.open(subject);
    }),
    commands.registerCommand(SHOW_USES, (requested: unknown) => showUses(requested, client)),
  ];
}

/** Who uses the part at a position, peeked at from there. */
async function showUses(requested: unknown, client: BaseLanguageClient): Promise<void> {
  const { uri, position } = fieldsOf(requested);
  const { line, character } = fieldsOf(position);
  if (typeof uri !== 'string' || typeof line !== 'number' || typeof character !== 'number') return;
  const at: Position = { line, character };
  const params = { textDocument: { uri }, position: at, context: { includeDeclaration: false } };
  const found = (await client.sendRequest(ReferencesRequest.type, params)) ?? [];
  const { asUri, asPosition, asLocation } = client.protocol2CodeConverter;
  await window.showTextDocument(asUri(uri));
  await commands.executeCommand('editor.action.showReferences', asUri(uri), asPosition(at), found.map(asLocation));
}
