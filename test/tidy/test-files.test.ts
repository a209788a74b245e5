/** The house of the tests keeps its shape, as the rooms do. */
import { globSync, readFileSync } from 'node:fs';
import { basename, dirname, join, sep } from 'node:path';
import { expect, it } from 'vitest';
import { RequestType } from 'vscode-languageserver-protocol';
import { makeProgram } from '../../packages/language/src/cli/program.ts';
import * as protocol from '../../packages/language/src/editor/requests/protocol.ts';

const root = join(import.meta.dirname, '../..');
const sourcesIn = (folders: string): string[] =>
  globSync(`${folders}/**/*.{ts,mts,cjs}`, { cwd: root, exclude: ['**/node_modules', '**/dist', '**/generated'] }).map(
    (file) => file.split(sep).join('/'),
  );

const tests = sourcesIn('test');

const all = [...tests, ...sourcesIn('{packages,.github}')];

it('a name of a file is there once, among all packages, actions and tests', () => {
  expect(tests.length).toBeGreaterThan(250);
  const names = all.map((file) => basename(file).replace(/\.\w+$/, ''));
  expect(all.filter((_, i) => names.indexOf(names[i] ?? '') !== names.lastIndexOf(names[i] ?? ''))).toEqual([]);
});

it('two files of one folder differ in more than the ending of a word', () => {
  const stem = (file: string) =>
    `${dirname(file)}/${basename(file)
      .replace(/\.\w+$/, '')
      .split('-')
      .map((word) => word.replace(/(?:e?s|ed|ing|er)$/, ''))
      .sort()
      .join('-')}`;
  const stems = all.map(stem);
  expect(all.filter((_, i) => stems.indexOf(stems[i] ?? '') !== stems.lastIndexOf(stems[i] ?? ''))).toEqual([]);
});

it('no file has more than four hundred lines', () => {
  const lines = (file: string) => readFileSync(join(root, file), 'utf8').split('\n').length - 1;
  expect(tests.filter((file) => lines(file) > 400)).toEqual([]);
});

/** Whether a test of these folders has it word for word. */
const isTested = (folders: readonly string[], ...words: readonly string[]): boolean =>
  tests.some((file) => {
    if (!folders.some((folder) => file.startsWith(`test/${folder}/`))) return false;
    const text = readFileSync(join(root, file), 'utf8');
    return words.some((word) => text.includes(word));
  });

it.each(
  Object.entries(protocol).flatMap(([name, type]) =>
    type instanceof RequestType ? [{ name, method: type.method }] : [],
  ),
)('a test sends $method', ({ name, method }) => {
  expect(isTested(['protocol', 'server'], `${name},`, `${name} }`, `'${method}'`)).toBe(true);
});

/** What tests of the command do, statement by statement, without what has to fail; what a shell completes is no call. */
const calls = tests
  .filter((file) => /^test\/(?:cli|clients|review)\//.test(file) && !file.endsWith('bad-input.test.ts'))
  .flatMap((file) => readFileSync(join(root, file), 'utf8').split(';\n'))
  .filter((statement) => !/\bcode: 2\b|\.err\b|\brefused\(/.test(statement));

it.each(
  makeProgram().commands.flatMap((command) => [
    command.name(),
    ...command.commands.map((below) => `${command.name()} ${below.name()}`),
  ]),
)('a test calls the command %s, and not only to see it fail', (words) => {
  const named = `'${words.replaceAll(' ', "', '")}'`;
  const call = new RegExp(`(?:fettle(?:Alone)?\\(|\\[command, )\\s*(?:\\.\\.\\.\\[)?${named}`);
  expect(calls.some((statement) => call.test(statement))).toBe(true);
});

it('published data states its licence, or that none is stated', () => {
  const data = globSync('test/reference/*.ts', { cwd: root });
  expect(data.length).toBeGreaterThan(5);
  expect(data.filter((file) => !/licence/i.test(readFileSync(join(root, file), 'utf8')))).toEqual([]);
});
