/** The request behind “New Build”; `reference/protocol.md` describes it. */
import { expect, test } from 'vitest';
import { newBuildRequest } from '../../packages/language/src/editor/requests/protocol.ts';
import { sessions } from './one-session.ts';
import { WORKSHOP } from './workshop.ts';

const start = sessions();
const NUMBERS = {
  stator: '1204',
  kv: '6000 kv',
  propeller: '2.5 in',
  blades: '3',
  cells: '3S',
  capacity: '450',
  esc: '15',
  video: '4',
  dryMass: '92',
};

test('answers are judged one by one, and make a file once nothing is against them', async () => {
  const session = await start({ files: WORKSHOP });
  const ask = (answers: Record<string, string>, folder = 'builds') =>
    session.connection.sendRequest(newBuildRequest, { folder: session.uri(folder), answers });

  const blank = await ask({});
  expect(blank.file).toBeUndefined();
  expect(blank.questions.map(({ id }) => id)).toEqual(['name', 'motors', ...Object.keys(NUMBERS)]);
  // Nine are to be prompted for; the others have a default.
  expect(blank.questions.filter(({ usual }) => usual === undefined).map(({ id }) => id)).toEqual(Object.keys(NUMBERS));
  for (const { asks, description, example } of blank.questions) expect([asks, description, example]).not.toContain('');

  const { questions } = await ask({ kv: '6 V', name: 'Rafter' });
  const problems = new Map(questions.map(({ id, problem }) => [id, problem]));
  expect(problems.get('kv')).toBe('“V” is no unit for this: rpm/V');
  expect(problems.get('name')).toBe('Rafter is in this folder already');
  expect(problems.get('motors')).toBeUndefined();

  const { file } = await ask({ ...NUMBERS, name: 'Owl no. 2' });
  expect(file?.fileName).toBe('owl_no_2.fettle');
  const lines = file?.text.split('\n') ?? [];
  const { start: from, end } = file?.range ?? { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } };
  expect(lines[from.line]?.slice(from.character, end.character)).toBe('Owl_no_2');

  // What it wrote is clean where it goes.
  const path = 'builds/owl_no_2.fettle';
  const found = await session.open(path, file?.text ?? '');
  expect(found.filter(({ severity }) => severity === 1 || severity === 2)).toEqual([]);
});

test('a folder without the name may have it, and what is no answer is left aside', async () => {
  const session = await start({ files: WORKSHOP });
  const answers = { ...NUMBERS, name: 'Rafter', esc: 15 } as unknown as Record<string, string>;
  const { questions, file } = await session.connection.sendRequest(newBuildRequest, { answers });
  expect(file).toBeUndefined();
  expect(questions.filter(({ problem }) => problem !== undefined).map(({ id }) => id)).toEqual(['esc']);
  const wrong = session.connection.sendRequest(newBuildRequest, {} as never);
  await expect(wrong).rejects.toThrow('the answers are missing');
});

test('a second build names the parts of the first with the same figures, and takes a name and a file that are free', async () => {
  const session = await start({ files: {} });
  const ask = (answers: Record<string, string>) =>
    session.connection.sendRequest(newBuildRequest, { folder: session.uri(''), answers });
  const first = (await ask(NUMBERS)).file;
  expect(first?.fileName).toBe('first.fettle');
  await session.open('first.fettle', first?.text ?? '');
  const second = (await ask({ ...NUMBERS, kv: '5500', motors: '6' })).file;
  expect(second?.fileName).toBe('first_2.fettle');
  expect(second?.text).toContain('// By default: the name First_2.');
  expect(second?.text).toContain(
    '// In this folder already, with the same figures: P64x3, Board15, Video, Pack450_3S.',
  );
  expect(second?.text).toContain('motors: 6 x M1204_5500 with P64x3\n');
  expect(second?.text.match(/^[a-z]+ \w+ \{/gm)).toEqual(['motor M1204_5500 {', 'build First_2 {']);
  const found = await session.open('first_2.fettle', second?.text ?? '');
  expect(found.filter(({ severity }) => severity === 1 || severity === 2)).toEqual([]);
});
