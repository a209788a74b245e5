/** One slip, one message, whose fix cures it. */
import { describe, expect, it } from 'vitest';
import { readDocument } from '../../packages/language/src/checks/text/read-document.ts';
import { checkedIn } from '../checks/findings-in.ts';
import { ORDINARY } from '../ordinary-craft.ts';
import { Workspace } from '../references/memory-workspace.ts';
import { applied } from './surroundings.ts';

const barn = Workspace.of({ 'a.fettle': '' });

const problemsIn = async (text: string) => {
  const workspace = await barn;
  await workspace.edit('a.fettle', text);
  return readDocument(workspace.document('a.fettle')).problems;
};

const stand = (rows: string): string => `motor M { stator: 11 x 4 mm  kv: 9600 rpm/V }
propeller P { diameter: 51 mm  blades: 3 }
bench Stand {
  motor: M
  propeller: P
  ${rows}
}
`;
const HEAD = 'rows duty in %, voltage in V, current in A, thrust in gf';

describe('rows of a stand', () => {
  it.each([
    ['blanks', `${HEAD} {\n    25 7.42 0.48 9.1\n    50 7.31 1.45 24.2\n    100 6.90 5.51 -\n  }`],
    ['tabs', `${HEAD} {\n    25\t7.42\t0.48\t9.1\n    50\t7.31\t1.45\t24.2\n  }`],
    ['blanks in one row of three', `${HEAD} {\n    25, 7.42, 0.48, 9.1\n    50 7.31 1.45 24.2\n  }`],
  ])('%s for commas are one message, and its fix puts them in', async (_, rows) => {
    const text = stand(rows);
    const problems = await problemsIn(text);
    expect(problems.map(({ message }) => message)).toEqual(['commas separate the cells of a row: 25, 7.42, 0.48']);
    const [fix] = problems[0]?.fixes ?? [];
    expect(fix).toBeDefined();
    expect(fix && (await problemsIn(applied(text, fix)))).toEqual([]);
  });

  it.each([
    ['throttle in %, thrust in gf', 'duty'],
    ['rpm, thrust in gf', 'speed in rpm'],
    ['amps, thrust in gf', 'current in A'],
    ['duty in %, thrust in g', 'gf'],
  ])('a head as others write it has ours in its fix: %s', async (columns, ours) => {
    const text = stand(`rows ${columns} {\n    25, 9.1\n  }`);
    const problems = await problemsIn(text);
    expect(
      problems.flatMap(({ fixes = [] }) => fixes.flatMap(({ edits }) => edits.map(({ newText }) => newText))),
    ).toEqual([ours]);
    const [fix] = problems[0]?.fixes ?? [];
    expect(fix && (await problemsIn(applied(text, fix)))).toEqual([]);
  });

  it('a row with a cell too few is underlined whole', async () => {
    const text = stand(`${HEAD} {\n    25, 7.42, 0.48, 9.1\n    50, 7.31, 24.2\n  }`);
    const [found, ...others] = await problemsIn(text);
    expect(others).toEqual([]);
    expect(text.slice(found?.place.start, found?.place.end)).toBe('50, 7.31, 24.2');
    expect(found?.message).toContain('4 columns, but 3 cells');
  });
});

describe('a date', () => {
  const flight = (day: string) =>
    `motor M { stator: 11 x 4 mm  kv: 9600 rpm/V }\nbuild B {\n  observed "barn" {\n    on: ${day}\n  }\n}\n`;
  const reported = async (text: string) =>
    (await problemsIn(text)).filter(({ place }) => text.slice(0, place.start).endsWith('on: '));

  it.each(['2026-10-04', '2024-02-29'])('is taken: %s', async (day) => expect(await reported(flight(day))).toEqual([]));

  it.each([
    ['4.10.2026', '2026-10-04'],
    ['2026-1-4', '2026-01-04'],
    ['2026/10/04', '2026-10-04'],
    ['"2026-10-04"', '2026-10-04'],
  ])('as others write it has ours in its fix: %s', async (day, ours) => {
    const text = flight(day);
    const [found, ...others] = await reported(text);
    expect(others).toEqual([]);
    expect(found?.message).toContain('on is a date, such as 2026-10-04');
    const [fix] = found?.fixes ?? [];
    expect(fix && applied(text, fix)).toBe(flight(ours));
  });

  it.each(['2026-02-30', '2026-13-01', '2026-10', '3/4/2026', '2026', 'today'])(
    'that is none of the calendar, or could be two, is reported without a fix: %s',
    async (day) => {
      const [found, ...others] = await reported(flight(day));
      expect(others).toEqual([]);
      expect(found?.message).toContain('on is a date, such as 2026-10-04');
      expect(found?.fixes ?? []).toEqual([]);
    },
  );
});

describe('a stator with its height first', () => {
  const withStator = ORDINARY.filter(({ text }) => /stator: [\d.]+ x [\d.]+ mm/.test(text));

  it.each(withStator)('is one message, at the motor: $file', async ({ text }) => {
    const swapped = text.replace(/stator: ([\d.]+) x ([\d.]+) mm/, 'stator: $2 x $1 mm');
    const findings = (await checkedIn({ 'craft.fettle': swapped }))['craft.fettle']?.findings ?? [];
    const serious = findings.filter(({ severity }) => severity === 'error' || severity === 'warning');
    expect(serious.map(({ id }) => id)).toEqual(['implausible-value']);
    expect(serious[0]?.message).toMatch(/^the diameter comes first/);
    const [fix] = serious[0]?.fixes ?? [];
    expect(fix && applied(swapped, fix)).toBe(text);
  });

  it('a stator as high as wide is taken', async () => {
    expect(await problemsIn('motor M { stator: 8 x 8 mm  kv: 9600 rpm/V }')).toEqual([]);
  });
});
