import { describe, expect, test } from 'vitest';
import { type CompletionItem, CompletionResolveRequest } from 'vscode-languageserver-protocol/node';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { sharedSession } from './one-session.ts';
import { Session } from './session.ts';
import { WORKSHOP } from './workshop.ts';

const theSession = sharedSession({ files: WORKSHOP });

const FILE = 'builds/new.fettle';
const USE = 'use "../parts"\n';

/** Offers at the `|` of a text, in the order in which a client lists them. */
async function offered(text: string): Promise<CompletionItem[]> {
  const session = theSession();
  const before = text.slice(0, text.indexOf('|'));
  const document = TextDocument.create('', '', 0, text.replace('|', ''));
  await session.open(FILE, document.getText());
  const items = await session.completionsAt(FILE, document.positionAt(before.length));
  await session.close(FILE);
  return items.toSorted((left, right) => ((left.sortText ?? '') < (right.sortText ?? '') ? -1 : 1));
}

async function labels(text: string): Promise<string[]> {
  return (await offered(text)).map(({ label }) => label);
}

describe('lines', () => {
  test('kinds, with a whole part to fill in', async () => {
    const items = await offered('mo|');
    expect(items.map(({ label }) => label)).toEqual(expect.arrayContaining(['motor', 'build', 'use']));
    expect(items.find(({ label }) => label === 'motor')).toMatchObject({
      insertTextFormat: 2,
      textEdit: { newText: expect.stringContaining('kv: ${') },
    });
  });

  test('behind a name the brace brings the lines that are needed, the cursor in the first figure', async () => {
    const brace = (await offered('motor M1506 |')).find(({ label }) => label === '{');
    const text = brace?.textEdit?.newText ?? '';
    expect(text).toMatch(/^\{\n {2}kv: \$\{1\} rpm\/V\n/);
    expect(text).toContain('mass: ${');
    expect(text).toMatch(/\n\}\$0$/);
    expect(await labels('motor M1506_2400 like M1506_3900 |')).toEqual([]);
  });

  test('properties of the block, the missing and needed first, each with its sentence', async () => {
    const items = await offered('motor M {\n  mass: 3 g\n  |\n}\n');
    expect(items[0]?.label).toBe('kv');
    expect(items[0]?.documentation).toMatchObject({ value: expect.stringContaining('Unloaded speed per volt') });
    expect(items.map(({ label }) => label)).not.toContain('mass');
  });

  test('a word that is half typed is replaced, and a colon is not written twice', async () => {
    const session = theSession();
    const text = 'motor M {\n  resi: 3 mohm\n}\n';
    await session.open(FILE, text);
    const items = await session.completionsAt(FILE, session.behind(FILE, 'res'));
    const edit = items.find(({ label }) => label === 'resistance')?.textEdit;
    expect(edit && 'range' in edit && session.withEdits(FILE, [edit])).toBe('motor M {\n  resistance: 3 mohm\n}\n');
  });

  test('sentences where they are allowed', async () => {
    expect(await labels('build B {\n  |\n}\n')).toEqual(expect.arrayContaining(['require', 'accept', 'observed']));
    expect(await labels('esc E {\n  |\n}\n')).toEqual(expect.arrayContaining(['rail', 'note']));
    expect(await labels('motor M {\n  |\n}\n')).not.toContain('require');
  });

  test('nothing in comments and texts', async () => {
    expect(await labels('motor M { // k|\n}\n')).toEqual([]);
    expect(await labels('motor M "k|" {\n}\n')).toEqual([]);
  });

  test('a missing brace above does not matter', async () => {
    expect(await labels('motor M {\n  kv: 3 rpm/V\n\npack P {\n  |')).toContain('capacity');
  });
});

describe('values', () => {
  test('units of the dimension, the usual one first', async () => {
    expect((await labels('motor M {\n  resistance: 98 |\n}\n')).slice(0, 2)).toEqual(['mohm', 'ohm']);
    expect(await labels('motor M {\n  resistance: 98 |\n}\n')).not.toContain('g');
  });

  test('a unit straight behind its number gets its space', async () => {
    const [first] = await offered('motor M {\n  resistance: 98|\n}\n');
    expect(first?.textEdit).toMatchObject({ newText: ' mohm' });
  });

  test('the unit of a condition', async () => {
    expect((await labels('motor M {\n  no_load_current: 0.6 A at 11.1 |\n}\n'))[0]).toBe('V');
  });

  test('the other end of a range, the other sides of a size', async () => {
    expect((await labels('motor M {\n  rated: 3S |\n}\n'))[0]).toBe('..');
    expect(await labels('motor M {\n  rated: 3S .. 5S |\n}\n')).not.toContain('..');
    expect((await labels('motor M {\n  stator: 11 |\n}\n')).slice(0, 2)).toEqual(['mm', 'x']);
  });

  test('choices', async () => {
    expect(await labels('pack P {\n  chemistry: |\n}\n')).toEqual(['lipo', 'lihv', 'liion']);
  });

  test('clauses, ± and origins behind a figure, each once', async () => {
    expect(await labels('motor M {\n  no_load_current: 0.6 A |\n}\n')).toEqual([
      'at',
      '+-',
      'measured',
      'claimed',
      'estimated',
    ]);
    expect(await labels('motor M {\n  no_load_current: 0.6 A at 11.1 V measured |\n}\n')).toEqual(['+-']);
  });
});

describe('names', () => {
  test('parts of the right kind in scope', async () => {
    const names = await labels(`${USE}build B {\n  motors: 4 x |\n}\n`);
    expect(names.slice(0, 2)).toEqual(['M1506_3900', 'M1506_2400']);
    expect(names).not.toContain('Board32');
    expect(await labels(`${USE}build B {\n  motors: 4 x M1506_3900 with |\n}\n`)).toContain('P3022x3');
  });

  test('parts that are not in scope bring their use', async () => {
    const items = await offered('build B {\n  esc: |\n}\n');
    const board = items.find(({ label }) => label === 'Board32');
    expect(board?.additionalTextEdits).toMatchObject([{ newText: expect.stringContaining('use "../parts"') }]);
  });

  test('what can feed a load, and the rails of a board', async () => {
    const build = (rest: string) => `${USE}build B {\n  esc: Board32\n  load: Camera from ${rest}\n}\n`;
    expect(await labels(build('|'))).toEqual(expect.arrayContaining(['pack', 'Board32.video']));
    expect(await labels(build('Board32.|'))).toEqual(['video']);
  });

  test('bases of the same kind, itself left out', async () => {
    const names = await labels(`${USE}motor M like | {\n}\n`);
    expect(names).toContain('M1506_3900');
    expect(names).not.toContain('M');
    expect(names).not.toContain('Board32');
  });

  test('folders that can be used', async () => {
    expect(await labels('use "|"\n')).toContain('../parts');
  });
});

describe('sentences', () => {
  const inBuild = (line: string) =>
    labels(`${USE}build B {\n  esc: Board32\n  pack: Slim900_3S\n  pack: Slim900_5S as Gentle\n  ${line}\n}\n`);

  test('results, then units of what is compared, then packs', async () => {
    expect(await inBuild('require |')).toEqual(expect.arrayContaining(['hover_time', 'all_up_weight', 'rail', 'min']));
    expect((await inBuild('require hover_time >= 4 |'))[0]).toBe('min');
    expect(await inBuild('require hover_time >= 4 min with |')).toEqual(['Slim900_3S', 'Gentle']);
  });

  test('rails and their results', async () => {
    expect(await inBuild('require rail.|')).toContain('video');
    expect(await inBuild('require rail.video.|')).toEqual(['voltage', 'burst_voltage', 'current']);
  });

  test('findings, severities, limits, occasions', async () => {
    expect(await inBuild('accept |')).toContain('motor-overvoltage');
    expect(await inBuild('accept motor-|')).toContain('motor-overvoltage');
    expect(await inBuild('lower pack-oversag to |')).toEqual(['error', 'warning', 'information', 'hint']);
    expect(await inBuild('keep 20 % in reserve on |')).toContain('esc.continuous');
    expect(await inBuild('note "x" for |')).toEqual(['assembly', 'preflight']);
  });

  test('what a build can leave out is what it is given', async () => {
    const text = `${USE}build A {\n  esc: Board32\n  pack: Slim900_3S\n}\nbuild B like A {\n  without: |\n}\n`;
    expect(await labels(text)).toEqual(['Board32', 'Slim900_3S']);
  });

  test('multiples of hover', async () => {
    expect(await inBuild('burst: 2 |')).toEqual(['x hover']);
    expect(await inBuild('burst: 2 x |')).toEqual(['hover']);
    expect(await inBuild('flown: 40 % at 1.4 |')).toEqual(['x hover']);
    expect(await inBuild('flown: 60 % at |')).toEqual(['hover']);
  });

  test('columns of a test stand, each once, their units, and where the rows are', async () => {
    const inBench = (line: string) => labels(`${USE}bench B {\n  ${line}\n}\n`);
    expect((await inBench('rows |')).slice(0, 3)).toEqual(['duty', 'voltage', 'current']);
    expect(await inBench('rows duty in %, |')).not.toContain('duty');
    expect(await inBench('rows duty |')).toEqual(['in']);
    expect((await inBench('rows duty in %, thrust in |'))[0]).toBe('gf');
    expect(await inBench('rows duty in % |')).toEqual(['{', 'from']);
  });
});

test('a client that resolves offers gets their documentation on request', async () => {
  const completionItem = {
    snippetSupport: true,
    documentationFormat: ['markdown' as const],
    resolveSupport: { properties: ['documentation'] },
  };
  const session = await Session.start({
    files: WORKSHOP,
    capabilities: { textDocument: { publishDiagnostics: {}, completion: { completionItem } } },
  });
  const text = `${USE}build B {\n  motors: 4 x \n}\n`;
  await session.open(FILE, text);
  const items = await session.completionsAt(FILE, session.behind(FILE, '4 x '));
  const motor = items.find(({ label }) => label === 'M1506_3900');
  expect(motor?.documentation).toBeUndefined();
  const resolved = motor && (await session.connection.sendRequest(CompletionResolveRequest.type, motor));
  expect(resolved).toMatchObject({ label: 'M1506_3900', textEdit: motor?.textEdit });
  expect(resolved?.documentation).toMatchObject({
    kind: 'markdown',
    value: expect.stringMatching(/\| kv \| 3900 ± 140 rpm\/V \|/),
  });
  // Of an earlier list nothing is known any more, and nothing wrong is stated.
  await session.completionsAt(FILE, session.behind(FILE, 'build B {\n  '));
  expect(motor && (await session.connection.sendRequest(CompletionResolveRequest.type, motor))).toEqual(motor);
  await session.stop();
});
