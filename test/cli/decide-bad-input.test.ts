/**
 * What is typed wrongly to the commands that decide: one line each, with what would be right; nothing is printed and nothing is written. That
 * every wrong line of a build or a shortlist is refused is in `test/report/refused-lines.test.ts`; here are some of them.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { oneIn } from '../long.ts';
import { KEPT, TRIED, VARIED } from '../report/refused-lines.ts';
import { Workshop } from './command.ts';

const shop = new Workshop();
afterAll(() => shop.remove());

const spire = () => readFileSync(join(shop.folder, 'examples/builds/spire.fettle'), 'utf8');

const BUILDS = ['--in', 'examples/builds'];
const keep = (text: string, ...more: string[]) => ['solve', 'Spire', '--most', 'item mass', '--keep', text, ...more];
const most = (figure: string) => ['solve', 'Spire', '--most', figure, '--keep', 'thrust_to_weight >= 3'];
const vary = (line: string, prefer = 'hover_time', ...more: string[]) => [
  'choose',
  'Spire',
  '--vary',
  line,
  '--prefer',
  prefer,
  ...more,
];

const WRONG: readonly (readonly [readonly string[], RegExp])[] = [
  [keep('thrust_to_weight >= 3', '--with', 'Mast9'), /there is no pack Mast9; known: Mast720_4S/],
  [keep('thrust_to_weight >= 3', '--least', 'duty'), /state either --most FIGURE or --least FIGURE/],
  [['solve', 'Spire', '--keep', 'thrust_to_weight >= 3'], /state either --most FIGURE or --least FIGURE/],
  [most('hover_time'), /there is no figure hover_time; known: item mass, duty/],
  [most('pack cells'), /there is no figure pack cells/],
  [most('mass'), /several parts have mass: state one of item mass/],
  [
    most('motor continuous'),
    /motor continuous changes nothing in thrust_to_weight >= 3: state a requirement that depends on it/,
  ],
  [
    ['solve', 'Spir', '--most', 'duty', '--keep', 'thrust_to_weight >= 3'],
    /there is no build Spir; did you mean Spire\?/,
  ],
  [['try', 'Spire', 'pack: Mast1350'], /“pack: Mast1350”: no such pack: Mast1350; did you mean Mast1350_4S\?/],
  [['sensitivity', 'hover_tim', 'Spire'], /there is no result hover_tim; did you mean hover_time\?/],
  [['sensitivity', 'rail.nix.voltage', 'Spire'], /did you mean rail\.logic\.voltage\?/],
  [['choose', 'TowerPak'], /there is no shortlist or build TowerPak; did you mean TowerPack\?/],
  [['choose', 'Spire'], /state what is varied and preferred/],
  [['choose', 'Spire', '--vary', 'Mast720_4S'], /state what is varied and preferred/],
  [['choose', 'TowerPack', '--vary', 'Mast720_4S'], /TowerPack is a shortlist and states itself what it varies/],
  [['choose', 'TowerPack', '--prefer', 'hover_time'], /TowerPack is a shortlist and states itself what it varies/],
  [['choose', 'TowerPack', '--apply', 'x'], /rows are counted from 1, such as --apply 1; nothing is written/],
  [['choose', 'TowerPack', '--apply', '0'], /rows are counted from 1, such as --apply 1; nothing is written/],
];

/** Each with how its message begins: with the line as it was typed, where it is one of several. */
const LINES: readonly (readonly [readonly string[], RegExp, string])[] = [
  ...KEPT.map(([text, message]) => [keep(text), message, `fettle: --keep “${text}”: `] as const),
  ...TRIED.map(([line, message]) => [['try', 'Spire', line], message, `fettle: “${line}”: `] as const),
  ...VARIED.map(([[line, prefer, require], message]) => {
    const required = require === undefined ? [] : ['--require', require];
    return [vary(line, prefer, ...required), message, 'fettle: '] as const;
  }),
];

const ALL = [...WRONG.map(([args, message]) => [args, message, 'fettle: '] as const), ...oneIn(10, LINES, 1)];

describe('what is typed wrongly', () => {
  it.each(ALL)('%j is refused in one line with what would be right', (args, message, start) => {
    const before = spire();
    const [command = '', ...rest] = args;
    const at = command === 'sensitivity' ? ['examples/builds'] : BUILDS;
    const { code, out, err } = shop.fettle(command, ...rest, ...at);
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(err).toMatch(/^fettle: .+\n$/);
    expect(err.slice(0, start.length)).toBe(start);
    expect(err).toMatch(message);
    expect(spire()).toBe(before);
  });
});
