/** What people and scripts get wrong, with every command: a clear message, exit code 2, nothing written, nothing executed. */
import { readdirSync, symlinkSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { where } from '../where.ts';
import { Workshop } from './command.ts';

const shop = new Workshop();
afterAll(() => shop.remove());

/** No defect, no stack, nothing that drives a terminal. */
const CLEAR =
  /^(?![\s\S]*(?:internal error|\n\s+at |NaN|undefined|\[object))(?:(?!\n)\P{Cc})*(?:\n(?:(?!\n)\P{Cc})*)*$/u;

describe('a slip on the command line', () => {
  const before = readdirSync(shop.folder, { recursive: true });
  it.each([
    ['check', ''],
    ['check', 'nowhere'],
    ['check', '--nonsense\u001b[31m'],
    ['check', '--fail-on', 'e\u001b[2Jrror'],
    ['check', 'no\u001b]0;x\u0007where'],
    ['check', '--format', 'json', '--watch'],
    ['sheet'],
    ['sheet', 'Gable', ''],
    ['sheet', 'Gable', 'examples/builds', '--out', 'examples'],
    ['sheet', 'Gable', 'examples/builds', '--out', 'examples/builds/gable.fettle'],
    ['card', 'Gable', '--in', 'examples/builds', '--out', 'examples/builds/gable.fettle'],
    ['sheet', '\u001b[31m', 'examples/builds'],
    ['card'],
    ['card', 'Gable', '--in'],
    ['card', '../../etc/passwd', '--in', 'examples/builds'],
    ['card', 'Gable', '--in', 'examples/builds', '--out', 'no/card.html'],
    ['compare', 'Gable', 'constructor', '--in', 'examples/builds'],
    ['compare', 'Gable', '--with', '__proto__', '--in', 'examples/builds'],
    ['explain', 'toString', 'Gable', 'examples/builds'],
    ['explain', 'hover_time', 'Gable', 'examples/builds', '--with', ''],
    ['list', 'uses', 'hasOwnProperty', 'examples'],
    ['list', 'nonsense', 'nowhere'],
    ['format', 'nowhere'],
    ['new', '--out', 'a.fettle'],
    ['completion', '$(touch x)'],
    ['review', '--base', '--output=x'],
    ['review'],
    [''],
    ['\u001b[31m'],
  ])('fettle %j %j %j %j', (...args) => {
    const { code, err, out } = shop.fettle(...args.filter((arg) => arg !== undefined));
    expect(code).toBe(2);
    expect(err + out).toMatch(CLEAR);
    expect(err + out).not.toBe('');
    expect(readdirSync(shop.folder, { recursive: true })).toEqual(before);
  });
});

it.each([
  ['examples', 'examples cannot be written: it is a folder; state a file in it'],
  ['card.pdf', 'card.pdf: unknown ending .pdf; a page ends in .html, .htm, .md, .txt, or state --format'],
  ['no/card.html', 'no/card.html cannot be written: there is no folder no'],
  ['examples/builds/gable.fettle/card.html', 'examples/builds/gable.fettle is no folder'],
])('a page that cannot be written to %s gives the reason, in its own words', (out, description) => {
  expect(shop.fettle('card', 'Gable', '--in', 'examples/builds', '--out', out).err).toContain(description);
});

describe('names of files that a shell or a terminal would take for something else', () => {
  const folder = 'odd "dir" $(touch pwned) `id`; -- ';
  const file = `${folder}/--format=json\nnew 'line' \u202e.fettle`;

  it.each([
    ['check', folder],
    ['check', folder, '--format', 'sarif'],
    ['check', folder, '--format', 'gitlab'],
    ['check', folder, '--format', 'github'],
    ['check', folder, '--format', 'junit'],
    ['check', folder, '--format', 'markdown'],
    ['list', 'builds', folder],
    ['format', folder],
    ['card', 'Odd', '--in', folder],
    ['sheet', 'Odd', folder, '--format', 'markdown'],
    ['explain', 'hover_time', 'Odd', folder],
    ['compare', 'Odd', '--in', folder],
  ])('%s', (...args) => {
    shop.write(file, `use "../examples/builds"\nbuild Odd like Gable { }\n`);
    const { code, out, err } = shop.fettle(...args);
    expect({ code, err }).toEqual({ code: 0, err: '' });
    expect(out).toMatch(CLEAR);
    expect(out).not.toContain('\u202e');
    expect(readdirSync(shop.folder)).not.toContain('pwned');
  });
});

it('an unfinished merge is one error, and no file is written over it', () => {
  const torn =
    'use "../examples/builds"\n<<<<<<< HEAD\nbuild   Torn like Gable { }\n=======\nbuild Torn { }\n>>>>>>> x\n';
  shop.write('torn/a.fettle', torn);
  const { code, out } = shop.fettle('check', 'torn');
  expect(code).toBe(1);
  expect(out.match(/ {2}error {2}/g)).toHaveLength(1);
  expect(out).toMatch(/^torn\/a\.fettle:2:1 {2}error {2}syntax$/m);
  expect(shop.fettle('format', 'torn')).toMatchObject({ code: 2, err: expect.stringContaining('left alone') });
});

describe('a table of rows that has no end', () => {
  where(process.platform !== 'win32', 'devices as files')('is no file to read', () => {
    const bench =
      'bench T {\n  motor: M1606_2650\n  propeller: P4022x2\n  rows duty in %, thrust in gf from "endless.csv"\n}\n';
    shop.write('examples/parts/endless.fettle', `fettle 1\n${bench}`);
    symlinkSync('/dev/zero', join(shop.folder, 'examples/parts/endless.csv'));
    const { code, out } = shop.fettle('check', 'examples/parts/endless.fettle');
    expect(code).toBe(1);
    // It is not even looked at: a link leads out of the workspace.
    expect(out).toContain('endless.csv lies outside of the workspace');
  });
});
