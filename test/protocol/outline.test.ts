import { expect, test } from 'vitest';
import {
  DocumentSymbolRequest,
  FoldingRangeRequest,
  HoverRequest,
  SelectionRangeRequest,
} from 'vscode-languageserver-protocol/node';
import { cases } from '../long.ts';
import { sessions } from './one-session.ts';

// All the way to the built server in a process of its own where there is time for it.
const start = sessions({ alone: cases(0, 1) === 1 });

test('outlines, folds and widens selections', async () => {
  const session = await start();
  const text = [
    '// Two lines of',
    '// comment.',
    'esc Board32 "thirty-two" {',
    '  channels: 4',
    '  rail video {',
    '    output: 10 V',
    '  }',
    '}',
    '',
  ].join('\n');
  await session.open('boards.fettle', text);
  const textDocument = { uri: session.uri('boards.fettle') };

  const symbols = await session.connection.sendRequest(DocumentSymbolRequest.type, { textDocument });
  expect(symbols).toMatchObject([
    { name: 'Board32', detail: 'esc · thirty-two', children: [{ name: 'video', detail: 'rail' }] },
  ]);

  const folds = await session.connection.sendRequest(FoldingRangeRequest.type, { textDocument });
  expect(folds).toEqual(
    expect.arrayContaining([
      { startLine: 0, endLine: 1, kind: 'comment' },
      { startLine: 2, endLine: 6, kind: 'region' },
      { startLine: 4, endLine: 5, kind: 'region' },
    ]),
  );

  const [selection] =
    (await session.connection.sendRequest(SelectionRangeRequest.type, {
      textDocument,
      positions: [session.inside('boards.fettle', '10')],
    })) ?? [];
  const widening: string[] = [];
  for (let step = selection; step !== undefined; step = step.parent) {
    widening.push(session.textAt('boards.fettle', step.range));
  }
  expect(widening.slice(0, 3)).toEqual(['10', '10 V', 'output: 10 V']);
  expect(widening.at(-1)).toBe(text);

  // Behind the last letter of a word it is still that word.
  const [behind] =
    (await session.connection.sendRequest(SelectionRangeRequest.type, {
      textDocument,
      positions: [session.behind('boards.fettle', '10 V')],
    })) ?? [];
  expect(behind && session.textAt('boards.fettle', behind.range)).toBe('V');
});

test('folds a block that is not closed yet, its last line included', async () => {
  const session = await start();
  await session.open('half.fettle', 'esc Board32 {\n  channels: 4\n  mass: 11.3 g\n');
  const textDocument = { uri: session.uri('half.fettle') };
  const folds = await session.connection.sendRequest(FoldingRangeRequest.type, { textDocument });
  expect(folds).toEqual([{ startLine: 0, endLine: 2, kind: 'region' }]);
});

test('answers requests with impossible parameters, and goes on', async () => {
  const session = await start();
  await session.open('a.fettle', 'item Strap { mass: 1.6 g }\n');
  const far = { line: 99_999, character: 99_999 };
  await session.connection.sendRequest(HoverRequest.type, session.at('a.fettle', far));
  await expect(session.connection.sendRequest('fettle/noSuchRequest', {})).rejects.toThrow();
  await expect(session.connection.sendRequest('textDocument/hover', { nonsense: true })).rejects.toThrow();
  await expect(session.connection.sendRequest(HoverRequest.type, session.at('missing.fettle', far))).rejects.toThrow();
  expect(await session.change('a.fettle', 'item Strap { mass: 1.7 g }\n')).toEqual([]);
});

test('a file deleted while open stays as long as it is open', async () => {
  const session = await start({ files: { 'a.fettle': 'item Strap { mass: 1.6 g }\n' } });
  await session.open('a.fettle', 'item Strap { mass: 1.6 g }\n');
  await session.deleteFile('a.fettle');
  await session.change('a.fettle', 'item Strap { mass: 1.7 g }\n');
  const symbols = await session.connection.sendRequest(DocumentSymbolRequest.type, {
    textDocument: { uri: session.uri('a.fettle') },
  });
  expect(symbols).toMatchObject([{ name: 'Strap' }]);
});

test('shows how far it is with a large workspace, from beginning to end', async () => {
  const names = Array.from({ length: 150 }, (_, index) => `item-${index}`);
  const session = await start({
    files: Object.fromEntries(names.map((name) => [`${name}/a.fettle`, 'item Strap { mass: 1.6 g }\n'])),
    capabilities: { textDocument: { publishDiagnostics: {} }, window: { workDoneProgress: true } },
  });
  await expect.poll(() => session.progress.at(-1)?.kind).toBe('end');
  expect(session.progress[0]).toMatchObject({ kind: 'begin', percentage: expect.any(Number) });
  const percentages = session.progress.flatMap((step) => (step.kind === 'end' ? [] : (step.percentage ?? [])));
  // Files are checked while the client is asked whether it shows anything: there may be nothing left to report.
  expect(percentages.at(-1)).toBeGreaterThan(0);
  expect(percentages).toEqual(percentages.toSorted((left, right) => left - right));
});
