import { expect, test } from 'vitest';
import {
  DidChangeConfigurationNotification,
  DocumentFormattingRequest,
  DocumentLinkRequest,
  DocumentOnTypeFormattingRequest,
  DocumentRangeFormattingRequest,
  type InlayHint,
  InlayHintRefreshRequest,
  InlayHintRequest,
  SemanticTokensDeltaRequest,
  SemanticTokensRangeRequest,
  SemanticTokensRequest,
} from 'vscode-languageserver-protocol/node';
import { mutated } from '../fuzz/mutate.ts';
import { randomNumbers } from '../seeded.ts';
import { sharedSession } from './one-session.ts';
import { Session } from './session.ts';
import { PACKS, PARTS, RAFTER, WORKSHOP } from './workshop.ts';

const theSession = sharedSession({ files: WORKSHOP });
const BUILD = 'builds/rafter.fettle';
const options = { tabSize: 2, insertSpaces: true };

test('formatting changes lines, not the whole text, and a second time nothing', async () => {
  const session = theSession();
  const text = 'motor   M {\nkv:9600rpm/V\n  mass: 3 g  // light\n}\n';
  await session.open('m.fettle', text);
  const textDocument = { uri: session.uri('m.fettle') };
  const edits = (await session.connection.sendRequest(DocumentFormattingRequest.type, { textDocument, options })) ?? [];
  expect(edits.map(({ range }) => [range.start.line, range.end.line])).toEqual(
    edits.map(({ range }) => [range.start.line, range.start.line]),
  );
  expect(new Set(edits.map(({ range }) => range.start.line))).toEqual(new Set([0, 1]));
  const formatted = session.withEdits('m.fettle', edits);
  expect(formatted).toBe('motor M {\n  kv: 9600 rpm/V\n  mass: 3 g  // light\n}\n');
  await session.change('m.fettle', formatted);
  expect(await session.connection.sendRequest(DocumentFormattingRequest.type, { textDocument, options })).toEqual([]);
});

test('formatting keeps CRLF, also where lines come and go', async () => {
  const session = theSession();
  const textDocument = { uri: session.uri('m.fettle') };
  for (const text of [
    'motor   M {\r\nkv:9600rpm/V\r\n}\r\n',
    'motor M { kv: 9600 rpm/V  rated: 3S\r\n\r\n\r\n\r\n}\r\n\r\n\r\n',
  ]) {
    await session.open('m.fettle', text);
    const edits = await session.connection.sendRequest(DocumentFormattingRequest.type, { textDocument, options });
    const formatted = session.withEdits('m.fettle', edits ?? []);
    expect(formatted).toMatch(/^motor M \{\r\n {2}kv: 9600 rpm\/V\r\n(?: {2}rated: 3S\r\n)?\}\r\n$/);
    await session.close('m.fettle');
  }
});

test('a range or a finished line is formatted alone', async () => {
  const session = theSession();
  await session.open('m.fettle', 'motor M {\n    kv:9600rpm/V\n    mass:3g\n}\n');
  const textDocument = { uri: session.uri('m.fettle') };
  const range = { start: { line: 2, character: 0 }, end: { line: 3, character: 0 } };
  const ofRange = await session.connection.sendRequest(DocumentRangeFormattingRequest.type, {
    textDocument,
    range,
    options,
  });
  expect(session.withEdits('m.fettle', ofRange ?? [])).toBe('motor M {\n    kv:9600rpm/V\n  mass: 3 g\n}\n');
  const onType = { textDocument, position: { line: 2, character: 0 }, ch: '\n', options };
  const ofLine = await session.connection.sendRequest(DocumentOnTypeFormattingRequest.type, onType);
  expect(session.withEdits('m.fettle', ofLine ?? [])).toBe('motor M {\n  kv: 9600 rpm/V\n    mass:3g\n}\n');
});

test.each([
  ['empty lines too many above', 'item A { mass: 1 g }\n\n\n\nitem M {\n     mass:2 g\n}\n', 5],
  ['no line break at the end', 'item M {\n     mass:2 g\n}', 1],
])('a line is laid out alone, whatever else the file needs: %s', async (_, text, line) => {
  const session = theSession();
  await session.open('lines.fettle', text);
  const textDocument = { uri: session.uri('lines.fettle') };
  const options = { tabSize: 2, insertSpaces: true };
  const range = { start: { line, character: 0 }, end: { line: line + 1, character: 0 } };
  const ofRange = await session.connection.sendRequest(DocumentRangeFormattingRequest.type, {
    textDocument,
    range,
    options,
  });
  const onType = { textDocument, position: { line: line + 1, character: 0 }, ch: '\n', options };
  const ofLine = await session.connection.sendRequest(DocumentOnTypeFormattingRequest.type, onType);
  const wanted = text.replace('     mass:2 g', '  mass: 2 g');
  expect(session.withEdits('lines.fettle', ofRange ?? [])).toBe(wanted);
  expect(session.withEdits('lines.fettle', ofLine ?? [])).toBe(wanted);
  await session.close('lines.fettle');
});

test('a carriage return that ends a line for the client doubles nothing', async () => {
  const session = theSession();
  const text = 'item A { mass:1 g }\ritem B { mass: 2 V }\r';
  await session.open('old.fettle', text);
  const edits = await session.connection.sendRequest(DocumentFormattingRequest.type, {
    textDocument: { uri: session.uri('old.fettle') },
    options: { tabSize: 2, insertSpaces: true },
  });
  const formatted = session.withEdits('old.fettle', edits ?? []);
  expect(formatted.match(/item B/g)).toHaveLength(1);
  expect(formatted).toContain('mass: 1 g');
  await session.close('old.fettle');
});

test('a use and a table of rows are links', async () => {
  const session = theSession();
  await session.open('builds/stand.fettle', 'use "../parts"\nbench Stand {\n  rows duty in % from "stand.csv"\n}\n');
  const links = await session.connection.sendRequest(DocumentLinkRequest.type, {
    textDocument: { uri: session.uri('builds/stand.fettle') },
  });
  expect(links?.map(({ target }) => target)).toEqual([
    session.uri('parts/boards.fettle'),
    session.uri('builds/stand.csv'),
  ]);
});

test('hints show behind each pack how the craft flies on it, behind each requirement whether it holds', async () => {
  const session = theSession();
  await session.open(BUILD, RAFTER);
  const range = { start: { line: 0, character: 0 }, end: { line: 99, character: 0 } };
  const hints = await session.connection.sendRequest(InlayHintRequest.type, {
    textDocument: { uri: session.uri(BUILD) },
    range,
  });
  const labels = hints?.map(wordsOf);
  expect(labels).toHaveLength(4);
  expect(labels?.[0]).toMatch(/^\d+\.?\d* g · \d.* x weight · [\d.]+ min$/);
  expect(labels?.[2]).toBe('holds');
  expect(hints?.every(({ paddingLeft }) => paddingLeft === true)).toBe(true);
  // Only those of the lines that are in view.
  const lines = hints?.map(({ position }) => position.line) ?? [];
  const line = lines[1] ?? 0;
  const inView = await session.connection.sendRequest(InlayHintRequest.type, {
    textDocument: { uri: session.uri(BUILD) },
    range: { start: { line, character: 0 }, end: { line, character: 99 } },
  });
  expect(inView?.map(({ position }) => position.line)).toEqual(lines.filter((one) => one === line));
});

const wordsOf = ({ label }: InlayHint): string =>
  typeof label === 'string' ? label : label.map(({ value }) => value).join('');

const hintsIn = async (session: Session): Promise<InlayHint[]> =>
  (await session.connection.sendRequest(InlayHintRequest.type, {
    textDocument: { uri: session.uri(BUILD) },
    range: { start: { line: 0, character: 0 }, end: { line: 99, character: 0 } },
  })) ?? [];

test('each piece of a hint leads to its pack, and states how far it is known and on what that rests', async () => {
  const session = theSession();
  await session.open(BUILD, RAFTER);
  await session.open('parts/packs.fettle', PACKS);
  const [first, , time] = await hintsIn(session);
  const pieces = Array.isArray(first?.label) ? first.label : [];
  expect(pieces.map(({ tooltip }) => tooltip)).toEqual([
    expect.stringMatching(/^all-up weight with Slim900_3S: [\d.]+ ± [\d.]+ g\n± mostly from: .+ \(\d+ %\)$/),
    undefined,
    expect.stringMatching(/^thrust-to-weight with Slim900_3S: [\d.]+ \([\d.]+ to [\d.]+\)\n± mostly from: /),
    undefined,
    expect.stringMatching(/^hover time with Slim900_3S: [\d.]+ \([\d.]+ to [\d.]+\) min\n± mostly from: /),
  ]);
  const { location } = pieces[0] ?? {};
  expect(location?.uri).toBe(session.uri('parts/packs.fettle'));
  expect(location && session.textAt('parts/packs.fettle', location.range)).toBe('Slim900_3S');

  const [verdict] = Array.isArray(time?.label) ? time.label : [];
  expect(verdict).toMatchObject({ value: 'holds', location: { uri: session.uri(BUILD) } });
  expect(verdict?.tooltip).toMatch(/^on Slim900_3S: .*hover.*\non Slim900_5S: .*hover/);
  expect(verdict?.location && session.textAt(BUILD, verdict.location.range)).toBe('pack: Slim900_3S');
});

test('hints follow the switch while the server runs', async () => {
  const workspace = { configuration: true, inlayHint: { refreshSupport: true } };
  const session = await Session.start({ files: WORKSHOP, capabilities: { workspace } });
  await session.open(BUILD, RAFTER);
  expect(await hintsIn(session)).toHaveLength(4);
  const requested = new Promise<void>((resolve) =>
    session.connection.onRequest(InlayHintRefreshRequest.type, () => resolve()),
  );
  const settings = { fettle: { hints: { packs: false, requirements: false } } };
  await session.connection.sendNotification(DidChangeConfigurationNotification.type, { settings });
  await requested;
  expect(await hintsIn(session)).toEqual([]);
  await session.stop();
});

test('what a client is given of colours after edits are the differences: applied, they are the whole', async () => {
  const session = theSession();
  await session.open(BUILD, RAFTER);
  const textDocument = { uri: session.uri(BUILD) };
  const whole = await session.connection.sendRequest(SemanticTokensRequest.type, { textDocument });
  let data = whole?.data ?? [];
  let previousResultId = whole?.resultId ?? '';
  const random = randomNumbers(20261129);
  let text = RAFTER;
  for (let step = 0; step < 30; step++) {
    text = mutated([text], random);
    await session.change(BUILD, text);
    const delta = await session.connection.sendRequest(SemanticTokensDeltaRequest.type, {
      textDocument,
      previousResultId,
    });
    expect(delta, text).toHaveProperty('edits');
    const edits = delta && 'edits' in delta ? delta.edits : [];
    for (const edit of edits.toSorted((one, other) => other.start - one.start))
      data = [...data.slice(0, edit.start), ...(edit.data ?? []), ...data.slice(edit.start + edit.deleteCount)];
    previousResultId = delta?.resultId ?? '';
    const range = { start: { line: 0, character: 0 }, end: { line: 9999, character: 0 } };
    const expected = await session.connection.sendRequest(SemanticTokensRangeRequest.type, { textDocument, range });
    expect(data, text).toEqual(expected?.data);
  }
  // Nothing changed, nothing to send.
  const none = await session.connection.sendRequest(SemanticTokensDeltaRequest.type, {
    textDocument,
    previousResultId,
  });
  expect(none).toMatchObject({ edits: [] });
  // Who refers to an answer that nobody gave gets the whole.
  const unknown = await session.connection.sendRequest(SemanticTokensDeltaRequest.type, {
    textDocument,
    previousResultId: 'other',
  });
  expect(unknown).toMatchObject({ data });
});

test('a client that takes no differences is offered none', async () => {
  const session = await Session.start({ files: WORKSHOP, capabilities: { textDocument: { publishDiagnostics: {} } } });
  const { capabilities } = session.initializeResult;
  expect(capabilities.semanticTokensProvider).toMatchObject({ full: true });
  expect(capabilities).toMatchObject({ implementationProvider: false });
  expect(capabilities.typeHierarchyProvider).toBeUndefined();
  await session.stop();
});

test('an edit of a part makes the client refresh the hints of an open build', async () => {
  const session = await Session.start({
    files: WORKSHOP,
    capabilities: { textDocument: { publishDiagnostics: {} }, workspace: { inlayHint: { refreshSupport: true } } },
  });
  const requested = new Promise<void>((resolve) =>
    session.connection.onRequest(InlayHintRefreshRequest.type, () => resolve()),
  );
  await session.open(BUILD, RAFTER);
  await session.open('parts/motors.fettle', PARTS);
  await session.change('parts/motors.fettle', PARTS.replace('12.40 g', '14.40 g'));
  await requested;
  await session.stop();
});
