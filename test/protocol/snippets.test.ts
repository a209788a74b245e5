/** Blocks that completion brings: what is reported of them while their places are still to be filled in, and afterwards. */
import { describe, expect, test } from 'vitest';
import { type CompletionItem, type CompletionList, DiagnosticSeverity } from 'vscode-languageserver-protocol';
import { uriOf } from '../references/memory-workspace.ts';
import { MemoryServer } from './memory-server.ts';
import { WORKSHOP } from './workshop.ts';

const FILE = 'builds/new.fettle';

/** A file with nothing but a beginning, open in an editor; `files` are there already. */
async function begun(files: Readonly<Record<string, string>>, text = ''): Promise<MemoryServer> {
  return MemoryServer.start(new Map([...Object.entries(files), [FILE, text]]), new Map([[FILE, text]]));
}

async function offersAt(server: MemoryServer, text: string): Promise<CompletionItem[]> {
  const lines = text.split('\n');
  const position = { line: lines.length - 1, character: lines.at(-1)?.length ?? 0 };
  const textDocument = { uri: uriOf(FILE).toString() };
  const list = await server.ask<CompletionList>('textDocument/completion', { textDocument, position });
  return list.items.toSorted((one, other) => ((one.sortText ?? '') < (other.sortText ?? '') ? -1 : 1));
}

/** A snippet as an editor inserts it: each place with its default, each choice with its first. */
function inserted(snippet: string): string {
  const usual = new Map<string, string>();
  for (const [, stop = '', text = ''] of snippet.matchAll(/\$\{(\d+):([^}]*)\}/g)) usual.set(stop, text);
  return snippet
    .replace(/\$\{(\d+):([^}]*)\}/g, '$2')
    .replace(/\$\{\d+\|([^,|]*)[^}]*\}/g, '$1')
    .replace(/\$\{(\d+)\}/g, (_, stop: string) => usual.get(stop) ?? '')
    .replace(/\$\d/g, '');
}

const errorsIn = (server: MemoryServer): string[] =>
  (server.shown.get(uriOf(FILE).toString()) ?? [])
    .filter(({ severity }) => severity === DiagnosticSeverity.Error)
    .map(({ code, message }) => `${code}: ${message}`);

test('in an empty file a build and a motor are offered first', async () => {
  const server = await begun({});
  const labels = (await offersAt(server, '')).map(({ label }) => label);
  expect(labels.slice(0, 2)).toEqual(['build', 'motor']);
  server.stop();
});

test('a new build in an empty folder is whole as it arrives: nine figures to type over, no error, and results', async () => {
  const server = await begun({});
  const build = (await offersAt(server, '')).find(({ label }) => label === 'build');
  const snippet = build?.textEdit?.newText ?? '';
  expect(snippet.match(/\$\{\d+:[\d. x]+\}/g)).toHaveLength(9);
  await server.changeText(FILE, inserted(snippet));
  await server.built();
  expect(errorsIn(server)).toEqual([]);
  await server.settled();
  expect(errorsIn(server)).toEqual([]);
  expect(server.shown.get(uriOf(FILE).toString())?.map(({ code }) => code)).toEqual(['estimates']);
  server.stop();
});

test('where there are parts the build names them, and chooses among motors that can be flown', async () => {
  const start = 'use "../parts"\n';
  const server = await begun(WORKSHOP, start);
  const build = (await offersAt(server, start)).find(({ label }) => label === 'build');
  const snippet = build?.textEdit?.newText ?? '';
  expect(snippet).toMatch(/motors: 4 x \$\{2\|[^|]*M1506_3900[^|]*\|\} with \$\{3\|/);
  expect(snippet).not.toMatch(/Stator\d|^motor/m);
  await server.changeText(FILE, start + inserted(snippet));
  await server.built();
  expect(errorsIn(server)).toEqual([]);
  await server.elapse(2000);
  expect(errorsIn(server)).toEqual([]);
  server.stop();
});

test('parts, those of a second name, those of other folders and paths come in one order, whichever was edited last', async () => {
  const pack = (name: string) => `pack ${name} { cells: 3S  capacity: 900 mAh  mass: 80 g }\n`;
  const files = { 'parts/a.fettle': pack('First'), 'parts/b.fettle': pack('Second'), 'spare/c.fettle': pack('Third') };
  const server = await begun(files);
  const texts = [
    'use "../parts"\nbuild Own { pack: ',
    'use "../parts" as own\nbuild Own { pack: own.',
    'build Own { pack: ',
    'use "',
  ];
  const offered = async () => {
    const lists: [string, string | undefined][][] = [];
    for (const text of texts) {
      await server.changeText(FILE, text);
      await server.settled();
      lists.push((await offersAt(server, text)).map(({ label, textEdit }) => [label, textEdit?.newText]));
    }
    return lists;
  };
  const before = await offered();
  expect(before.map((offers) => /First.*Second|parts.*spare/.test(JSON.stringify(offers)))).toEqual(
    texts.map(() => true),
  );
  await server.openText('parts/a.fettle', `// Edited.\n${pack('First')}`);
  await server.settled();
  await server.deleteFile('spare/c.fettle');
  await server.writeFile('spare/c.fettle', pack('Third'));
  await server.settled();
  expect(await offered()).toEqual(before);
  server.stop();
});

test('where several kinds are varied the packs come first, wherever they are', async () => {
  const board = 'esc Board { mass: 9 g  channels: 4  continuous: 12 A }\n';
  const pack = 'pack First { cells: 3S  capacity: 900 mAh  mass: 80 g }\n';
  const server = await begun({ 'parts/a.fettle': board, 'parts/b.fettle': pack });
  const text = 'use "../parts"\nshortlist Few {\n  vary: ';
  await server.changeText(FILE, text);
  await server.settled();
  const labels = (await offersAt(server, text)).map(({ label }) => label);
  expect(labels.filter((label) => /First|Board/.test(label))).toEqual(['First', 'Board']);
  server.stop();
});

describe.each([
  ['in an empty folder', {}, ''],
  ['where there are parts', WORKSHOP, 'use "../parts"\n'],
])('%s', (_, files, start) => {
  test('no block that is completed brings an error before it is left', async () => {
    const server = await begun(files, start);
    const offers = await offersAt(server, start);
    expect(offers.length).toBeGreaterThan(10);
    for (const { label, textEdit } of offers) {
      await server.changeText(FILE, start + inserted(textEdit?.newText ?? ''));
      await server.built();
      expect(errorsIn(server), label).toEqual([]);
      await server.seeCursor(FILE, start === '' ? 1 : 2);
      expect(errorsIn(server), label).toEqual([]);
      await server.changeText(FILE, start);
      await server.settled();
    }
    server.stop();
  });
});

test('what is left blank is reported once the block is left', async () => {
  const server = await begun({}, '// parts\n');
  const motor = (await offersAt(server, '// parts\n')).find(({ label }) => label === 'motor');
  await server.changeText(FILE, `// parts\n${inserted(motor?.textEdit?.newText ?? '')}`);
  await server.built();
  await server.elapse(2000);
  expect(errorsIn(server)).toEqual([]);
  await server.seeCursor(FILE, 0);
  expect(errorsIn(server).length).toBeGreaterThan(0);
  server.stop();
});
