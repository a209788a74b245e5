/**
 * Whatever is queried about whatever text: an answer or a refusal in words, whole numbers in it, places inside the text, edits that can be
 * made, and a server that goes on. FETTLE_QUESTIONS=100000 sends that many, other ones each time (or those of FETTLE_SEED).
 */

import { afterAll, beforeAll, expect, it, vi } from 'vitest';
import { ResponseError } from 'vscode-languageserver-protocol';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { cases } from '../long.ts';
import { MemoryServer } from '../protocol/memory-server.ts';
import { pick, type Random, randomNumbers } from '../seeded.ts';
import { CHARACTERS, mutated, NUMBERS, OF_OBJECTS, WORDS } from './mutate.ts';
import { BUILDS, isOfSort, PARTS, report, type Slip, SMALL_BUILD, SPILT } from './texts.ts';

const demanded = Number(process.env.FETTLE_QUESTIONS ?? 0);
const QUESTIONS = demanded || cases(500, 1_500);
const SEED = demanded ? Number(process.env.FETTLE_SEED ?? Date.now() % 2 ** 31) : 20_261_130;
const A_TEXT = 25;
vi.setConfig({ testTimeout: demanded ? 24 * 3_600_000 : 240_000 });

const PATH = 'home/mutated.fettle';
const uri = `file:///home/${PATH}`;
const OTHER = 'home/other.fettle';
const WITH_PACKS = `${SMALL_BUILD}build Two like B { pack: P as Q2 duty 50 %  item: 3 g "tape" }\n`;

/** Refusals that people read. */
const REFUSALS: ReadonlySet<number> = new Set([-32602, -32803, -32801, -32802, -32800]);

type Question = readonly [method: string, params: unknown];
interface Position {
  readonly line: number;
  readonly character: number;
}
interface Range {
  readonly start: Position;
  readonly end: Position;
}

/** Mostly where something is written, often on a name, at times far outside. */
function somewhere(document: TextDocument, random: Random): Position {
  if (random() < 0.03) return { line: 4_000_000, character: 7 };
  const names = random() < 0.5 ? [...document.getText().matchAll(/\b[A-Z]\w*/g)] : [];
  if (names.length > 0) return document.positionAt(pick(random, names).index + 1);
  const { line, character } = document.positionAt(Math.floor(random() * (document.getText().length + 1)));
  return random() < 0.03 ? { line, character: character + 5_000 } : { line, character };
}

function stretch(document: TextDocument, random: Random): Range {
  const [one, other] = [somewhere(document, random), somewhere(document, random)];
  const isBefore = one.line < other.line || (one.line === other.line && one.character <= other.character);
  return isBefore ? { start: one, end: other } : { start: other, end: one };
}

const namesIn = (text: string): string[] => [...text.matchAll(/\bbuild\s+([^\s{]+)/g)].map(([, name = '']) => name);

function question(document: TextDocument, random: Random): Question {
  const textDocument = { uri };
  const at = { textDocument, position: somewhere(document, random) };
  const found = (server.shown.get(uri) ?? []).map((diagnostic) => diagnostic.range);
  const range = found.length > 0 && random() < 0.5 ? pick(random, found) : stretch(document, random);
  const options = { tabSize: 2, insertSpaces: true };
  const newName = pick(random, [...WORDS, ...OF_OBJECTS, ...NUMBERS, ...CHARACTERS, 'New', 'New_1', 'Ä', ' x', '']);
  const build = pick(random, [...namesIn(document.getText()), 'Two', 'B', 'nobody', 'constructor']);
  const result = pick(random, ['hover_time', 'all_up_weight', 'rail.video.voltage', 'pack_grams_left', 'toString', '']);
  const [kv, cells, name, mass] = [pick(random, NUMBERS), pick(random, NUMBERS), newName, pick(random, NUMBERS)];
  return pick<Question>(random, [
    ['textDocument/hover', at],
    ['textDocument/hover', at],
    ['textDocument/hover', at],
    ['textDocument/completion', at],
    ['textDocument/completion', at],
    ['textDocument/completion', at],
    ['textDocument/definition', at],
    ['textDocument/declaration', at],
    ['textDocument/typeDefinition', at],
    ['textDocument/references', { ...at, context: { includeDeclaration: random() < 0.5 } }],
    ['textDocument/documentHighlight', at],
    ['textDocument/prepareRename', at],
    ['textDocument/rename', { ...at, newName }],
    ['textDocument/rename', { ...at, newName: 'New' }],
    ['textDocument/prepareCallHierarchy', at],
    ['textDocument/selectionRange', { textDocument, positions: [at.position, range.start] }],
    ['textDocument/codeAction', { textDocument, range, context: { diagnostics: [] } }],
    ['textDocument/codeAction', { textDocument, range, context: { diagnostics: [] } }],
    ['textDocument/codeAction', { textDocument, range, context: { diagnostics: [], only: ['source.fixAll'] } }],
    ['textDocument/codeAction', { textDocument, range, context: { diagnostics: [], only: ['refactor'] } }],
    ['textDocument/signatureHelp', at],
    ['textDocument/implementation', at],
    ['textDocument/prepareTypeHierarchy', at],
    ['textDocument/inlayHint', { textDocument, range }],
    ['textDocument/documentSymbol', { textDocument }],
    ['textDocument/foldingRange', { textDocument }],
    ['textDocument/semanticTokens/full', { textDocument }],
    ['textDocument/semanticTokens/range', { textDocument, range }],
    ['textDocument/codeLens', { textDocument }],
    ['textDocument/documentLink', { textDocument }],
    ['textDocument/formatting', { textDocument, options }],
    ['textDocument/rangeFormatting', { textDocument, range, options }],
    ['workspace/symbol', { query: newName }],
    ['fettle/builds', {}],
    ['fettle/requirements', { uri }],
    ['fettle/sheet', { uri, build, quick: true }],
    ['fettle/newBuild', { answers: { name, kv, cells, dryMass: mass, stator: `${kv} x ${mass}`, capacity: kv } }],
    ['workspace/executeCommand', { command: 'fettle.explain', arguments: [{ uri, build, result }] }],
    ['workspace/executeCommand', { command: 'fettle.compare', arguments: [{ uri, build }] }],
  ]);
}

/** What is wrong with an answer; NaN and infinities arrive as null. */
function* slipsIn(answer: unknown, document: TextDocument, about = uri, key = ''): Iterable<string> {
  if (typeof answer === 'string') {
    const [spilt] = SPILT.exec(answer) ?? [];
    if (spilt !== undefined) yield `spills ${spilt}: ${answer.slice(0, 200)}`;
  } else if (answer === null) {
    // Of a file that is not open.
    if (key !== 'version') yield `nothing where something should be: ${key}`;
  } else if (typeof answer === 'object') {
    const { uri: own, textDocument, range } = answer as { uri?: string; textDocument?: { uri: string }; range?: Range };
    const where = own ?? textDocument?.uri ?? about;
    if (range !== undefined && where === uri) yield* slipsOfRange(range, document);
    if (Array.isArray(answer) && where === uri) yield* slipsOfEdits(answer, document);
    for (const [name, value] of Object.entries(answer ?? {}))
      yield* slipsIn(value, document, name.startsWith('file:') ? name : where, name);
  } else if (typeof answer === 'number' && !Number.isFinite(answer)) yield `no number: ${key}`;
}

function* slipsOfRange({ start, end }: Range, document: TextDocument): Iterable<string> {
  const isBackwards = start.line > end.line || (start.line === end.line && start.character > end.character);
  if (isBackwards) yield `a range that runs backwards`;
  for (const { line, character } of [start, end]) {
    const isWhole = Number.isInteger(line) && Number.isInteger(character) && line >= 0 && character >= 0;
    const length = document.getText({ start: { line, character: 0 }, end: { line, character: 4_000_000 } }).length;
    if (!isWhole || line >= document.lineCount || character > length)
      yield `a place that is none: ${line}:${character}`;
  }
}

function* slipsOfEdits(
  edits: readonly { range?: Range; newText?: string }[],
  document: TextDocument,
): Iterable<string> {
  if (edits.some(({ range, newText }) => range === undefined || newText === undefined)) return;
  try {
    TextDocument.applyEdits(document, edits as Parameters<typeof TextDocument.applyEdits>[1]);
  } catch (error) {
    yield `edits that cannot be made: ${error instanceof Error ? error.message : error}`;
  }
}

let server: MemoryServer;
const internal: string[] = [];

beforeAll(async () => {
  vi.spyOn(console, 'warn').mockImplementation(() => undefined);
  vi.spyOn(console, 'error').mockImplementation((...words: unknown[]) => {
    internal.push(
      words.map((one) => (one instanceof Error ? one.stack?.split('\n').slice(0, 5).join(' ') : one)).join(' '),
    );
  });
  server = await MemoryServer.start(
    new Map([
      [PATH, ''],
      [OTHER, 'item Canary { mass: 1 V }\n'],
    ]),
    new Map([[PATH, '']]),
  );
});
afterAll(() => {
  server.stop();
  vi.restoreAllMocks();
});

/** What an editor requests after an answer. */
async function askFurther(method: string, answer: unknown, document: TextDocument): Promise<string[]> {
  const items = Array.isArray(answer) ? answer : ((answer as { items?: unknown[] }).items ?? []);
  const [first] = items.slice(Math.floor(items.length / 2));
  if (first === undefined) return [];
  if (method === 'textDocument/completion') return ask(['completionItem/resolve', first], document);
  if (method === 'textDocument/codeLens') return ask(['codeLens/resolve', first], document);
  if (method !== 'textDocument/prepareCallHierarchy') return [];
  const [incoming, outgoing] = ['callHierarchy/incomingCalls', 'callHierarchy/outgoingCalls'];
  return [...(await ask([incoming, { item: first }], document)), ...(await ask([outgoing, { item: first }], document))];
}

async function ask([method, params]: Question, document: TextDocument): Promise<string[]> {
  try {
    const answer = await server.ask<unknown>(method, params);
    if (answer === null) return [];
    const slips = [...slipsIn(answer, document)].map((what) => `${method}: ${what}`);
    return [...slips, ...(await askFurther(method, answer, document))];
  } catch (error) {
    if (!(error instanceof ResponseError)) return [`${method} throws ${error}`];
    if (!REFUSALS.has(error.code)) return [`${method} fails (${error.code}): ${error.message}`];
    return [...slipsIn(error.message, document)].map((what) => `${method} is refused: ${what}`);
  }
}

/** Once answered wrongly. */
const CASES: readonly (readonly [text: string, piece: string, method: string])[] = [
  ['pack P { cells: 2E  capacity: 480 mAh  mass: 30 g }\n', 'cells', 'textDocument/hover'],
];

it.each(CASES)('is answered: %j at %s, %s', async (text, piece, method) => {
  const document = TextDocument.create(uri, 'fettle', 0, text);
  await server.changeText(PATH, text);
  await server.settled();
  internal.length = 0;
  const position = document.positionAt(text.indexOf(piece) + 1);
  const slips = await ask([method, { textDocument: { uri }, position }], document);
  expect([...slips, ...internal]).toEqual([]);
});

it(`is answered, seed ${SEED}`, async () => {
  const random = randomNumbers(SEED);
  const slips: Slip[] = [];
  const notify = (what: string, text: string): void => {
    if (isOfSort(what, slips)) return;
    slips.push({ what, text });
    if (demanded) console.log(report([{ what, text }]).join());
  };
  for (let requested = 0; requested < QUESTIONS; ) {
    const from = random() < 0.4 ? [WITH_PACKS] : random() < 0.1 ? BUILDS : PARTS;
    const text = mutated(from, random);
    const document = TextDocument.create(uri, 'fettle', 0, text);
    await server.changeText(PATH, text);
    await server.settled();
    for (const diagnostic of server.shown.get(uri) ?? [])
      for (const what of slipsIn(diagnostic, document)) notify(`a diagnostic: ${what}`, text);
    for (let i = 0; i < A_TEXT; i += 1, requested += 1) {
      const one = question(document, random);
      internal.length = 0;
      for (const what of await ask(one, document)) notify(what, `${text}\n${JSON.stringify(one)}`);
      for (const words of internal) notify(`inside: ${words}`, `${text}\n${JSON.stringify(one)}`);
      if (demanded && requested % 10_000 === 0)
        console.log(`${requested} of ${QUESTIONS}, ${slips.length} sorts of slips`);
    }
    if ((server.shown.get(`file:///home/${OTHER}`) ?? []).length !== 1)
      notify('a finding of another file is lost', text);
  }
  expect(report(slips)).toEqual([]);
});
