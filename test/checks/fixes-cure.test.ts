/** Every fix that is offered cures: its finding goes, and nothing as bad comes in its place. Over all that comes along, and craft with random slips. */
import { globSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { assessPlainly } from '../../packages/language/src/analysis/assess.ts';
import { withDutyLimit } from '../../packages/language/src/analysis/decide/changed-craft.ts';
import { dutyCures } from '../../packages/language/src/checks/duty-cure.ts';
import { EXAMPLE_CRAFT } from '../../packages/language/src/checks/example-craft.ts';
import type { Finding, Fix, TextEdit } from '../../packages/language/src/checks/finding.ts';
import { PAGES } from '../../packages/language/src/checks/registry.ts';
import { isDutyFix } from '../../packages/language/src/checks/shared/duty.ts';
import { soundFixes } from '../../packages/language/src/checks/sound-fixes.ts';
import type { Place } from '../../packages/language/src/syntax/place.ts';
import { atLeast } from '../../packages/language/src/vocabulary/severities.ts';
import { atLength, cases } from '../long.ts';
import { ORDINARY, textOf } from '../ordinary-craft.ts';
import { uriOf } from '../references/memory-workspace.ts';
import { checkedExample, checkedIn, checkedOnce, EXAMPLE } from './findings-in.ts';

type Texts = Readonly<Record<string, string>>;

const ROOT = join(import.meta.dirname, '../..');
const read = (pattern: string): Texts =>
  Object.fromEntries(globSync(pattern, { cwd: ROOT }).map((path) => [path, readFileSync(join(ROOT, path), 'utf8')]));

const allOf = (checked: Awaited<ReturnType<typeof checkedIn>>): Finding[] =>
  Object.values(checked).flatMap(({ findings }) => findings);

/** Those that change a text, as an editor offers them. */
function offered(finding: Finding, checked: Awaited<ReturnType<typeof checkedIn>>): Fix[] {
  const build = Object.values(checked)
    .flatMap(({ builds }) => builds)
    .find((one) => one.build.name === finding.build && one.build.uri === finding.place.uri)?.build;
  const searched = build && !finding.accepted && finding.severity !== 'hint' && !finding.fixes.some(isDutyFix);
  const fixes = [...soundFixes(finding, build), ...(searched ? dutyCures(build, finding) : [])];
  return fixes.filter(({ edits }) => edits.length > 0);
}

function applied(texts: Texts, { edits }: Fix): Texts {
  const after: Record<string, string> = { ...texts };
  for (const { place, newText } of edits.toSorted((a, b) => b.place.start - a.place.start)) {
    const path = Object.keys(texts).find((one) => uriOf(one).toString() === place.uri) ?? '';
    const text = after[path] ?? '';
    after[path] = text.slice(0, place.start) + newText + text.slice(place.end);
  }
  return after;
}

const isLike = (one: Finding, other: Finding): boolean =>
  one.id === other.id && one.build === other.build && one.place.uri === other.place.uri;

/** Where the edits of a fix leave a place: what it replaces there belongs to it. */
function moved({ uri, start, end }: Place, { edits }: Fix): Place {
  const before = edits.filter(({ place }) => place.uri === uri).toSorted((a, b) => a.place.start - b.place.start);
  const grown = ({ place, newText }: TextEdit) => newText.length - (place.end - place.start);
  const sumOf = (some: readonly TextEdit[]) => some.reduce((sum, edit) => sum + grown(edit), 0);
  const from = before.filter(({ place }) => place.end < start);
  const within = before.filter(({ place }) => place.end >= start && place.start <= end);
  return { uri, start: start + sumOf(from), end: end + sumOf([...from, ...within]) };
}

const isAt = (one: Place, other: Place): boolean =>
  one.uri === other.uri && one.start <= other.end && other.start <= one.end;

/** A finding of several packs is reported once; a fix may be for one of them, and reports it. */
const packsOf = ({ packs, pack }: Finding): readonly (string | undefined)[] => packs ?? [pack];

/** How often something of its kind is found in its build: on each pack, at each place. */
const timesOf = (finding: Finding, findings: readonly Finding[]): number =>
  findings.filter((one) => isLike(one, finding)).reduce((sum, one) => sum + packsOf(one).length, 0);

/** On a pack at least it is found no more where it was, in whatever words; nor, of a craft, elsewhere in its place. */
function isCured(finding: Finding, fix: Fix, before: readonly Finding[], after: readonly Finding[]): boolean {
  const place = moved(finding.place, fix);
  const left = new Set(after.filter((one) => isLike(one, finding) && isAt(one.place, place)).flatMap(packsOf));
  const isGone = packsOf(finding).some((pack) => !left.has(pack));
  return isGone && (finding.build === undefined || timesOf(finding, after) < timesOf(finding, before));
}

/** What a fix left undone or brought; nothing where it mends. A slip of the text hides what the craft is like: that may come to light. */
function failures(finding: Finding, fix: Fix, before: readonly Finding[], after: readonly Finding[]): string[] {
  const brought = after.filter(
    (one) =>
      atLeast(one.severity, finding.severity) &&
      (finding.build !== undefined || one.build === undefined) &&
      !before.some((other) => isLike(one, other) && atLeast(other.severity, one.severity)),
  );
  return [
    ...(isCured(finding, fix, before, after) ? [] : ['it is still there']),
    ...brought.map(({ id, message }) => `brings ${id}: ${message}`),
  ];
}

let met = 0;
let tried = 0;

/** A fix may be offered for it. */
const isFixable = ({ fixes, severity }: Finding): boolean => fixes.length > 0 || severity !== 'hint';

/**
 * What fixes offered in these texts did not do.
 * @param others what other slips in them cause alone: one may have hidden another
 * @param step of so many findings the fixes of one are tried
 */
async function uncured(texts: Texts, others: readonly Finding[] = [], step = 1): Promise<string[]> {
  const checked = await checkedOnce(texts);
  const before = allOf(checked);
  const found: string[] = [];
  for (const finding of before.filter(isFixable)) {
    met += 1;
    if (met % step !== 0) continue;
    for (const fix of offered(finding, checked)) {
      tried += 1;
      const after = allOf(await checkedIn(applied(texts, fix)));
      const isBrought = (one: Finding) => !others.some(({ id, message }) => one.id === id && one.message === message);
      const failed = failures(finding, fix, before, after.filter(isBrought));
      if (failed.length > 0) found.push([`${finding.id}: ${finding.message}`, fix.title, ...failed].join('\n  '));
    }
  }
  return found;
}

const expectCures = async (texts: Texts, step = 1): Promise<void> => expect(await uncured(texts, [], step)).toEqual([]);

/** Of whole folders, where each fix is a check of all files. */
const STEP = cases(4, 1);

describe('every fix offered cures', { timeout: 300_000 }, () => {
  const examples = read('examples/**/*.fettle');
  const sound = Object.fromEntries(Object.entries(examples).filter(([path]) => !path.includes('/broken/')));
  const broken = Object.entries(examples).filter(([path]) => path.includes('/broken/'));

  it.each(broken)('%s', (path, text) => expectCures({ ...sound, [path]: text }, STEP));
  it('the other examples', () => expectCures(sound, STEP));
  // Each sort of fix in them is that of a page, which is tried below.
  atLength('the samples', () => expectCures(read('test/fixtures/samples/**/*.fettle'), STEP));
  it.each(Object.entries(PAGES).filter(([, { fails }]) => fails))('the page of %s', (_, { fails }) =>
    expectCures({ 'craft.fettle': EXAMPLE_CRAFT, [EXAMPLE]: fails }),
  );

  it.each([
    ['a decimal comma in a side', 'fledgling', 'stator: 12 x 4 mm', 'stator: 12 x 4,5 mm'],
    ['a comma where no decimal is possible', 'wren', 'kv: 19000 rpm/V', 'kv: 1,9000 rpm/V'],
    ['a comma between sides', 'fledgling', 'stator: 12 x 4 mm', 'stator: 12, 4 mm'],
    ['a unit nearest to one that cannot be meant', 'pipit', 'supply: 5.5 V', 'supply: 5.5 kv'],
    ['kv ten times out', 'library-far', 'kv: 1300 rpm/V', 'kv: 13000 rpm/V'],
    ['a weak board', 'heron', 'continuous: 40 A', 'continuous: 4 A'],
  ] as const)('%s', (_, craft, from, to) => expectCures({ 'craft.fettle': textOf(craft).replace(from, to) }));
});

describe('another part', () => {
  it.each([
    ['esc-overcurrent', '', /^take a board that withstands [\d.]+ A per channel for seconds$/],
    ['motor-overcurrent', '', /^take a motor that withstands [\d.]+ A for seconds, or a smaller propeller$/],
    ['pack-overcurrent', 'item: 150 g "payload"', /^take a pack that supplies [\d.]+ A for seconds$/],
  ] as const)('is named where a duty limit would leave too little thrust: %s', async (id, heavier, description) => {
    const { fails } = PAGES[id];
    const text = fails.replace(/^build .*\{/m, (head) => `${head}\n  ${heavier}`);
    const checked = await checkedExample(text);
    const finding = allOf(checked).find((one) => one.id === id);
    const build = checked[EXAMPLE]?.builds.find((one) => one.build.name === finding?.build)?.build;
    expect(finding?.fixes.some(isDutyFix)).toBe(true);
    const fixes = finding ? soundFixes(finding, build) : [];
    expect(fixes.map(({ title }) => title)).toEqual([expect.stringMatching(description)]);
    expect(fixes[0]?.edits).toEqual([]);
  });
});

describe('a duty limit', () => {
  const cases = ['motor-overcurrent', 'motor-overpower', 'esc-overcurrent', 'pack-overcurrent'] as const;

  it.each(cases)('of %s keeps the rating that the finding names, not what is tolerated past it', async (id) => {
    const { fails } = PAGES[id];
    const checked = await checkedExample(fails);
    const finding = allOf(checked).find((one) => one.id === id);
    const build = checked[EXAMPLE]?.builds.find((one) => one.build.name === finding?.build)?.build;
    const own = finding?.fixes.find(isDutyFix)?.trial;
    if (!finding || !build || !own || !('duty' in own)) throw new Error(`${id} brings no duty limit`);
    const [value, limit] = ['current', 'power'].flatMap((name) => finding.numbers.filter((one) => one.name === name));
    const rated = finding.numbers.find(({ name }) => name === 'limit')?.value ?? Number.NaN;
    expect(limit).toBeUndefined();
    const option = build.packs.find(({ name }) => name === own.pack);
    if (!option) throw new Error(`no ${own.pack}`);
    const draftsAt = (duty: number) => {
      const limited = withDutyLimit(option, duty);
      const assessment = assessPlainly(build, limited);
      const name = value?.name === 'power' ? 'fullPower' : 'fullCurrent';
      return id === 'pack-overcurrent'
        ? (assessment.results.get('full_current')?.estimate.value ?? Number.NaN)
        : Math.max(...assessment.rotors.map((rotor) => rotor[name]?.value ?? 0));
    };
    expect(draftsAt(own.duty)).toBeLessThanOrEqual(rated);
    expect(draftsAt(own.duty + 0.02)).toBeGreaterThan(rated);
    // What is searched for on demand is never more.
    for (const { trial } of [...soundFixes(finding, build), ...dutyCures(build, finding)])
      if (trial && 'duty' in trial && trial.pack === own.pack) expect(trial.duty).toBeLessThanOrEqual(own.duty);
  });
});

// ---- random slips

/** A piece of a text that is another; several are found in the same text, so that each can be made alone. */
interface SlipEdit {
  readonly start: number;
  readonly end: number;
  readonly newText: string;
}

const SLIPS: readonly ((text: string, at: number, choice: number) => SlipEdit | undefined)[] = [
  // A figure times something.
  (text, at, choice) =>
    onOne(text, /(?<=: |x |, )\d+(?:\.\d+)?(?= ?[a-zA-Z%])/g, at, (number) => {
      const factor = [0.1, 0.3, 0.5, 0.7, 1.4, 2, 3, 10][choice % 8] ?? 1;
      return String(Number((Number(number) * factor).toPrecision(3)));
    }),
  (text, at) => onOne(text, /:/g, at, () => ''),
  (text, at, choice) =>
    onOne(
      text,
      /(?<=\d) ?(?:mAh|g|mm|A|V|W|rpm\/V|mohm|S)\b/g,
      at,
      () => ['', ' mm', ' g', ' V', ' kv', ' mah', 's', ' ohm'][choice % 8] ?? '',
    ),
  (text, at, choice) =>
    onOne(text, /\b[a-zA-Z]\w{3,}\b/g, at, (word) => {
      const cut = 1 + (choice % (word.length - 2));
      return `${word.slice(0, cut)}${word[cut + 1]}${word[cut]}${word.slice(cut + 2)}`;
    }),
  (text, at) => onOne(text, /^.*\n/gm, at, () => ''),
  (text, at) => onOne(text, /\d+\.\d+/g, at, (number) => number.replace('.', ',')),
  (text, at) => onOne(text, /(?<=\d)(?=\d{3}\b)/g, at, () => ','),
];

function onOne(text: string, pattern: RegExp, at: number, change: (found: string) => string): SlipEdit | undefined {
  const found = [...text.matchAll(pattern)];
  const one = found[Math.floor(at * found.length)];
  return one && { start: one.index, end: one.index + one[0].length, newText: change(one[0]) };
}

/** Of two in one place the first. */
function slipped(text: string, slips: readonly SlipEdit[]): string {
  const apart = slips.filter((one, i) =>
    slips.slice(0, i).every((other) => one.end < other.start || one.start > other.end),
  );
  const fromTheEnd = apart.toSorted((a, b) => b.start - a.start);
  return fromTheEnd.reduce((left, { start, end, newText }) => left.slice(0, start) + newText + left.slice(end), text);
}

const slip = fc.record({
  kind: fc.oneof({ weight: 3, arbitrary: fc.constant(0) }, { weight: 4, arbitrary: fc.nat(SLIPS.length - 1) }),
  at: fc.double({ min: 0, max: 1, noNaN: true, maxExcluded: true }),
  choice: fc.nat(1000),
});

const RUNS = Number(process.env.FETTLE_FIX_CRAFT ?? cases(8, 60));

/** Each run's failures with the text in which they were met, so that one can become a case above. */
it('every fix offered for ordinary craft with random slips cures', { timeout: 24 * 3_600_000 }, async () => {
  tried = 0;
  const craft = fc.tuple(fc.constantFrom(...ORDINARY), fc.array(slip, { minLength: 1, maxLength: 2 }));
  const failed: string[] = [];
  for (const [{ text }, slips] of fc.sample(craft, { numRuns: RUNS, seed: Number(process.env.FETTLE_SEED ?? 1511) })) {
    const edits = slips.flatMap(({ kind, at, choice }) => SLIPS[kind]?.(text, at, choice) ?? []);
    const alone = edits.length > 1 ? edits.map((one) => slipped(text, [one])) : [];
    const others = await Promise.all(alone.map(async (one) => allOf(await checkedIn({ 'craft.fettle': one }))));
    const whole = slipped(text, edits);
    for (const one of await uncured({ 'craft.fettle': whole }, others.flat())) failed.push(`${one}\nin\n${whole}`);
  }
  if (process.env.FETTLE_FIX_CRAFT) console.log(`${tried} fixes tried, ${failed.length} do not cure`);
  expect(failed).toEqual([]);
  expect(tried).toBeGreaterThan(RUNS / 6);
});
