/** The candidates of a shortlist as a page next to the text: sections, ways, a row taken as an edit, progress, and answers that stay true. */
import { expect, test } from 'vitest';
import {
  ApplyWorkspaceEditRequest,
  CancellationTokenSource,
  ExecuteCommandRequest,
  type Location,
  LSPErrorCodes,
  ProgressType,
  type TextDocumentEdit,
  type TextEdit,
  WorkDoneProgress,
  type WorkDoneProgressBegin,
  type WorkDoneProgressReport,
} from 'vscode-languageserver-protocol/node';
import { TextDocument } from 'vscode-languageserver-textdocument';
import {
  buildsRequest,
  type ChoiceAnswer,
  type ChoiceSections,
  choiceRequest,
  type SheetTarget,
  type TakeTarget,
} from '../../packages/language/src/editor/requests/protocol.ts';
import { bestSoFar } from '../../packages/language/src/report/decide/choice-sections.ts';
import { sessions } from './one-session.ts';
import type { Session } from './session.ts';
import { CHOICE, RAFTER, SHORTLIST, WORKSHOP } from './workshop.ts';

const start = sessions();
const BUILD = 'builds/rafter.fettle';
const PACKS = 'parts/packs.fettle';
const files = { ...WORKSHOP, [CHOICE]: SHORTLIST };

const ask = (session: Session, shortlist = 'Which'): Promise<ChoiceAnswer> =>
  session.connection.sendRequest(choiceRequest, { uri: session.uri(CHOICE), shortlist });

const take = (session: Session, row: unknown, shortlist = 'Which') =>
  session.connection.sendRequest(ExecuteCommandRequest.type, {
    command: 'fettle.take',
    arguments: [{ uri: session.uri(CHOICE), shortlist, row }],
  }) as Promise<Location>;

const section = ({ choice }: ChoiceAnswer, id: string) => {
  const found = choice?.sections.find((one) => one.id === id);
  if (!found) throw new Error(`no section ${id}`);
  return found;
};
const isRow = (target: SheetTarget): target is TakeTarget => 'row' in target;
const isPlace = (target: SheetTarget): target is Location => 'uri' in target;
const rowsOf = (answer: ChoiceAnswer) => section(answer, 'candidates').targets.filter(isRow);

/** A client that applies what the server wants to be edited, or does not. */
function applying(session: Session, isApplied = true): (TextDocumentEdit | undefined)[] {
  const edits: (TextDocumentEdit | undefined)[] = [];
  session.connection.onRequest(ApplyWorkspaceEditRequest.type, ({ edit }) => {
    edits.push(edit.documentChanges?.find((change): change is TextDocumentEdit => 'textDocument' in change));
    return { applied: isApplied, ...(!isApplied && { failureReason: 'it is read-only' }) };
  });
  return edits;
}

const after = (text: string, edit: TextDocumentEdit | undefined): string =>
  TextDocument.applyEdits(TextDocument.create('memory:a', 'fettle', 1, text), (edit?.edits ?? []) as TextEdit[]);

test('the page has the verdict, the front, every row with a button and ways into the text', async () => {
  const session = await start({ files });
  await session.open(CHOICE, SHORTLIST);
  await session.open(BUILD, RAFTER);
  await session.open(PACKS, WORKSHOP[PACKS] ?? '');
  const answer = await ask(session);
  expect(answer.shortlists).toEqual(['Which']);
  expect(answer.choice).toMatchObject({ shortlist: 'Which', title: 'which pack?' });
  expect(answer.choice?.sections.map(({ id }) => id)).toEqual(['head', 'front', 'candidates', 'caution']);
  expect(section(answer, 'head').html).toMatch(/\d of 3 candidates ha(?:ve|s) no error in any check or requirement/);
  expect(section(answer, 'front').html).toContain('<svg');
  const { html, targets } = section(answer, 'candidates');
  const taken = rowsOf(answer);
  expect(taken.length).toBeGreaterThan(0);
  for (const { row } of taken) expect(html).toContain(`aria-label="Take this one: ${row}"`);
  expect(html.match(/data-go="/g)).toHaveLength(targets.length);
  const places = targets.filter(isPlace).map(({ uri, range }) => {
    const path = [BUILD, CHOICE, PACKS].find((one) => session.uri(one) === uri) ?? uri;
    return `${path}: ${session.textAt(path, range).split('\n')[0]}`;
  });
  expect(places).toContainEqual(expect.stringMatching(/^parts\/packs\.fettle: Slim900_3S/));
  const head = section(answer, 'head')
    .targets.filter(isPlace)
    .map(({ uri }) => uri);
  expect(head).toEqual([session.uri(CHOICE), session.uri(BUILD)]);
});

test('the shortlists of the workspace are listed, open or not', async () => {
  const session = await start({ files });
  await session.open(BUILD, RAFTER);
  const { shortlists } = await session.connection.sendRequest(buildsRequest, {});
  const range = { start: { line: 2, character: 10 }, end: { line: 2, character: 15 } };
  expect(shortlists).toEqual([{ uri: session.uri(CHOICE), name: 'Which', title: 'which pack?', range }]);
});

test('a row is taken as an edit of the build: its comments stay, and the page then calls it today', async () => {
  const session = await start({ files });
  await session.open(CHOICE, SHORTLIST);
  const text = RAFTER.replace('  pack: Slim900_3S\n', '  pack: Slim900_3S  // the light one\n');
  expect(text).not.toBe(RAFTER);
  await session.open(BUILD, text);
  const edits = applying(session);
  const [first] = rowsOf(await ask(session));
  const at = await take(session, first?.row);
  expect(at.uri).toBe(session.uri(BUILD));
  const edited = after(text, edits[0]);
  expect(edited).toMatch(/^ {2}pack: Slim900_3S duty [89]0 % {2}\/\/ the light one$/m);
  expect(edited.split('\n')).toHaveLength(text.split('\n').length);
  expect(edited.split('\n')[at.range.start.line]).toContain('pack: Slim900_3S duty');

  // The text has changed: rows that were shown before are refused, the page shows new ones.
  await session.change(BUILD, edited);
  await expect(take(session, first?.row)).rejects.toThrow(/a text has changed since/);
  const again = await ask(session);
  const row = section(again, 'candidates')
    .html.split('<tr ')
    .find((one) => one.includes('class="today"'));
  expect(row).toContain(first?.row.split(' · ').at(-1));
  expect(rowsOf(again).map((one) => one.row)).not.toContain(first?.row);
  await expect(take(session, first?.row)).rejects.toThrow(/Rafter has .* already/);
});

test('what cannot be taken is refused with the reason', async () => {
  const session = await start({ files });
  await session.open(CHOICE, SHORTLIST);
  await expect(take(session, 'Slim900_3S · duty 90 %')).rejects.toThrow(/show them again, then take one/);
  const [first] = rowsOf(await ask(session));
  await expect(take(session, 'Slim900_3S · duty 12 %')).rejects.toThrow(
    /Which has no candidate “Slim900_3S · duty 12 %”/,
  );
  await expect(take(session, 7)).rejects.toThrow(/fettle\.take takes \{ uri, shortlist, row \}/);
  await expect(take(session, first?.row, 'Other')).rejects.toThrow(/no shortlist Other/);
  applying(session, false);
  await expect(take(session, first?.row)).rejects.toThrow(/did not apply the edit: it is read-only/);
  const plain = await start({ files, capabilities: {} });
  await plain.open(CHOICE, SHORTLIST);
  const [row] = rowsOf(await ask(plain));
  await expect(take(plain, row?.row)).rejects.toThrow(/applies no edits of the server: the quick fixes at Which/);
});

test('parts that are in no file are shown and cannot be taken', async () => {
  const made = SHORTLIST.replace('vary: Slim900_3S', 'vary: capacity in 700 mAh .. 900 mAh step 100 mAh');
  const session = await start({ files: { ...files, [CHOICE]: made } });
  await session.open(CHOICE, made);
  const answer = await ask(session);
  expect(section(answer, 'candidates').html).toMatch(/capacity \d+ mAh/);
  expect(section(answer, 'candidates').html).toContain('exist in no file');
  expect(rowsOf(answer)).toEqual([]);
});

test('a page is of the texts as they are: a change of any file that it rests on makes it anew, another one does not', async () => {
  const session = await start({ files: { ...files, 'builds/other.fettle': '// nothing\n' } });
  await session.open(CHOICE, SHORTLIST);
  const levels = (answer: ChoiceAnswer) => section(answer, 'candidates').html.match(/<span>[^<]+<\/span>/g);
  const before = levels(await ask(session));
  const lens = async () => (await session.lensesOf(CHOICE)).map(({ command }) => command?.title);
  // An edit of what is not looked at keeps what was found.
  await session.open('builds/other.fettle', '// something\n');
  expect(levels(await ask(session))).toEqual(before);
  const packs = WORKSHOP[PACKS] ?? '';
  await session.open(PACKS, packs);
  await session.changeWithoutWaiting(PACKS, packs.replace(/mass: [\d.]+ g/g, 'mass: 20 g'));
  const lighter = levels(await ask(session));
  expect(lighter).not.toEqual(before);
  await session.change(PACKS, packs);
  expect(levels(await ask(session))).toEqual(before);
  expect(await lens()).toEqual([]);
});

test('a shortlist that is not there shows those that are; one that cannot be judged is refused with the reason', async () => {
  const session = await start({ files });
  await session.open(CHOICE, SHORTLIST);
  expect(await ask(session, 'Other')).toEqual({ shortlists: ['Which'] });
  await session.change(CHOICE, SHORTLIST.replaceAll(/ {2}vary: .*\n/g, ''));
  await expect(ask(session)).rejects.toThrow(/Which varies nothing yet/);
  const wrong = session.connection.sendRequest(choiceRequest, { uri: session.uri(CHOICE) } as never);
  await expect(wrong).rejects.toThrow(/the shortlist is missing: \{ uri, shortlist \}/);
});

test('a search in which nothing has passed yet reports that', () => {
  const interim = { done: 64, of: 128, preferences: [], rows: () => [] };
  expect(bestSoFar(interim).html.text).toContain('None has passed so far.');
});

/** Of each winding a candidate is another motor: so many take a while on any machine. */
const LARGE = SHORTLIST.replace('step 10 %', 'step 1 %\n  vary: kv in 2000 rpm/V .. 5000 rpm/V step 4 rpm/V');

test('a long search reports how far it is and the best so far, and ends when it is cancelled', async () => {
  const session = await start({ files: { ...files, [CHOICE]: LARGE } });
  await session.open(CHOICE, LARGE);
  const reports: (WorkDoneProgressBegin | WorkDoneProgressReport)[] = [];
  const parts: ChoiceSections[] = [];
  const source = new CancellationTokenSource();
  session.connection.onProgress(WorkDoneProgress.type, 'done', (state) => {
    if (state.kind === 'end') return;
    reports.push(state);
    if (reports.length === 2) source.cancel();
  });
  session.connection.onProgress(new ProgressType<ChoiceSections>(), 'part', (part) => {
    parts.push(part);
  });
  const asked = {
    uri: session.uri(CHOICE),
    shortlist: 'Which',
    workDoneToken: 'done',
    partialResultToken: 'part',
  };
  await expect(session.connection.sendRequest(choiceRequest, asked, source.token)).rejects.toMatchObject({
    code: LSPErrorCodes.RequestCancelled,
  });
  expect(reports.slice(0, 2).map(({ kind }) => kind)).toEqual(['begin', 'report']);
  expect(reports.at(-1)?.percentage).toBeLessThan(100);
  expect(reports[0]).toMatchObject({
    title: 'Judging candidates',
    message: expect.stringMatching(/^[\d,]+ of 15,771$/),
  });
  expect(reports[1]?.percentage).toBeGreaterThanOrEqual(reports[0]?.percentage ?? 100);
  expect(parts[0]?.sections[0]?.html).toMatch(/The best so far, without ±.*Slim900_3S · duty \d/s);
  // Nothing half-found is kept.
  await expect(take(session, 'Slim900_3S · duty 90 %')).rejects.toThrow(/show them again/);
});

test('a search goes on while another file is edited, and ends where a file that it rests on is', async () => {
  const OTHER = 'elsewhere/other.fettle';
  const session = await start({ files: { ...files, [CHOICE]: LARGE, [OTHER]: '// nothing\n' } });
  const packs = WORKSHOP[PACKS] ?? '';
  await session.open(CHOICE, LARGE);
  await session.open(OTHER, '// nothing\n');
  await session.open(PACKS, packs);
  const whileSearching = async (edit: () => Promise<unknown>) => {
    const begun = new Promise<void>((resolve) => {
      const listener = session.connection.onProgress(WorkDoneProgress.type, 'done', () => {
        listener.dispose();
        resolve();
      });
    });
    const asked = { uri: session.uri(CHOICE), shortlist: 'Which', workDoneToken: 'done' };
    const answer = session.connection.sendRequest(choiceRequest, asked).then(
      ({ choice }) => choice?.sections.length,
      ({ code }: { code: number }) => code,
    );
    await begun;
    await edit();
    return answer;
  };
  const touched = packs.replace('mass:', 'mass:  ');
  expect(touched).not.toBe(packs);
  expect(await whileSearching(() => session.changeWithoutWaiting(PACKS, touched))).toBe(LSPErrorCodes.ContentModified);
  expect(await whileSearching(() => session.changeWithoutWaiting(OTHER, '// something\n'))).toBeGreaterThanOrEqual(4);
});
