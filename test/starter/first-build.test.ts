/** A first build: what people type, what is taken for it, and that the text is one that the language takes. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { layOut } from '../../packages/language/src/grammar/layout.ts';
import { firstBuild, problemsWith } from '../../packages/language/src/starter/first-build.ts';
import { type Answers, QUESTIONS, type QuestionId } from '../../packages/language/src/starter/questions.ts';
import { anyText } from '../any-text.ts';
import { checkedIn } from '../checks/findings-in.ts';
import { cases } from '../long.ts';
import { Workspace } from '../references/memory-workspace.ts';

const FLEDGLING: Answers = {
  name: 'Fledgling',
  stator: '12 x 4 mm',
  kv: '6000 rpm/V',
  propeller: '63.5 mm',
  blades: '3',
  cells: '3S',
  capacity: '450 mAh',
  esc: '15 A',
  video: '4 W',
  dryMass: '92 g',
};
const partsOf = async (text: string) =>
  (await Workspace.of({ 'old.fettle': text })).document('old.fettle').parseResult.value.parts;

const textOf = (answers: Answers): string => firstBuild({ ...FLEDGLING, ...answers })?.text ?? '';
const problemOf = (id: QuestionId, answer: string): string | undefined =>
  problemsWith({ ...FLEDGLING, [id]: answer })[id];

describe('a first build', () => {
  it('states each of the nine numbers where it belongs, and looks at the build', () => {
    const build = firstBuild(FLEDGLING);
    const { text = '', look } = build ?? {};
    for (const line of ['stator: 12 x 4 mm', 'kv: 6000 rpm/V', 'diameter: 63.5 mm', 'blades: 3', 'cells: 3S'])
      expect(text).toContain(`  ${line}\n`);
    for (const line of ['capacity: 450 mAh', 'continuous: 15 A', 'draw: 4 W', 'dry_mass: 92 g'])
      expect(text).toContain(`  ${line}\n`);
    expect(text).toMatch(/motors: 4 x M1204_6000 with P64x3\n/);
    expect(text.slice(look?.start, look?.end)).toBe('Fledgling');
    expect(build?.fileName).toBe('fledgling.fettle');
    expect(layOut(text)).toEqual({ text });
  });

  it.each<[QuestionId, string, string]>([
    ['stator', '1204', 'stator: 12 x 4 mm'],
    ['stator', '2207.5', 'stator: 22 x 7.5 mm'],
    ['stator', '2806.5', '4 x M2806_5_6000 with'],
    ['stator', '12x4', 'stator: 12 x 4 mm'],
    ['kv', '6000', 'kv: 6000 rpm/V'],
    ['kv', ' 6000kv ', 'kv: 6000 rpm/V'],
    ['kv', '6000 KV', 'kv: 6000 rpm/V'],
    ['propeller', '2.5in', 'diameter: 2.5 in'],
    ['propeller', '63,5 mm', 'diameter: 63.5 mm'],
    ['cells', '3', 'cells: 3S'],
    ['cells', '3s', 'cells: 3S'],
    ['capacity', '0.45 Ah', 'capacity: 0.45 Ah'],
    ['capacity', '0450', 'capacity: 450 mAh'],
    ['esc', '15', 'continuous: 15 A'],
    ['motors', '', 'motors: 4 x'],
    ['motors', '6', 'motors: 6 x'],
  ])('%s may be typed as “%s”', (id, answer, line) => {
    expect(textOf({ [id]: answer })).toContain(line);
  });

  it('leaves the load out when there is none', () => {
    expect(textOf({ video: '0' })).not.toContain('load');
    expect(textOf({ video: '0 W' })).not.toContain('load');
  });

  it.each<[QuestionId, string, RegExp]>([
    ['kv', '60000', /outside what motors have, 100 to 40000 rpm\/V/],
    ['kv', '11,000', /is not a number and its unit/],
    ['kv', '6000 V', /“V” is no unit for this: rpm\/V/],
    ['propeller', '2.5', /did you mean 2.5 in\?/],
    ['stator', '12', /such as 12 x 4 mm or 1204/],
    ['stator', '4 x 11', /higher than it is wide: did you mean 11 x 4 mm\?/],
    ['blades', '2.5', /whole number of blades/],
    ['cells', '99', /1 to 14 cells/],
    ['capacity', '450 Ah', /did you mean 450 mAh\?/],
    ['motors', '2', /3 to 8 motors/],
    ['esc', '', /this needs/],
    ['dryMass', 'NaN', /is not/],
    ['dryMass', '1e999 g', /./],
    ['name', '"; } {', /a name needs a letter/],
    ['name', 'with', /is a word of the language/],
    ['name', 'x'.repeat(61), /at most 60/],
  ])('%s: “%s” is refused', (id, answer, problem) => {
    expect(problemOf(id, answer)).toMatch(problem);
    expect(firstBuild({ ...FLEDGLING, [id]: answer })).toBeUndefined();
  });

  it('takes no name that the folder has', async () => {
    const folder = {
      parts: await partsOf('motor M1204_6000 {}\nmotor M1204_6000_2 {}\nload Video { draw: 9 W }\nbuild Fledgling {}'),
    };
    const { text = '' } = firstBuild({ ...FLEDGLING, name: 'Other' }, folder) ?? {};
    expect(text).toContain('motors: 4 x M1204_6000_3 with');
    expect(text).toContain('load: Video_2');
    expect(problemsWith(FLEDGLING, folder).name).toBe('Fledgling is in this folder already');
  });

  it.each<[string, string, string | undefined]>([
    ['a motor with the same figures in another unit', 'motor Own { stator: 1.2 x 0.4 cm  kv: 6000 rpm/V }', 'Own'],
    [
      'one of which more is known',
      'motor Own { stator: 12 x 4 mm  kv: 6000 rpm/V  resistance: 90 mohm measured }',
      'Own',
    ],
    [
      'one that inherits them',
      'motor Base { stator: 12 x 4 mm  kv: 5000 rpm/V }\nmotor Own like Base { kv: 6000 rpm/V }',
      'Own',
    ],
    ['one with other figures', 'motor Own { stator: 12 x 4 mm  kv: 6100 rpm/V }', undefined],
    ['one that is half written', 'motor Own { stator: 12 x 4 mm  kv: 6000 rpm/V  mass: }', undefined],
    [
      'one whose name is declared twice',
      'motor Own { stator: 12 x 4 mm  kv: 6000 rpm/V }\nesc Own { continuous: 9 A }',
      undefined,
    ],
    [
      'two that differ in what else is known',
      'motor Own { stator: 12 x 4 mm  kv: 6000 rpm/V  mass: 9 g }\nmotor Other { stator: 12 x 4 mm  kv: 6000 rpm/V  mass: 8 g }',
      undefined,
    ],
    [
      'a board with rails of its own',
      'esc Own { continuous: 15 A  rail video { output: 5 V  continuous: 1 A } }',
      undefined,
    ],
    ['a board with nothing else', 'esc Own { continuous: 15 A }', 'Own'],
    ['a pack of two in parallel', 'pack Own { cells: 3S2P  capacity: 450 mAh }', undefined],
    ['a pack with its mass', 'pack Own { cells: 3S  capacity: 0.45 Ah  mass: 41 g }', 'Own'],
  ])('of the folder %s: %s', async (_what, text, reused) => {
    const build = firstBuild(FLEDGLING, { parts: await partsOf(text) });
    expect(build?.reused).toEqual(reused === undefined ? [] : [reused]);
    const kind = text.split(' ')[0] ?? '';
    expect(build?.text.includes(`\n${kind} `)).toBe(reused === undefined);
  });

  it('has a default for its name and its motors, and reports both', async () => {
    const { name: _name, ...numbers } = FLEDGLING;
    const build = firstBuild(numbers, {
      parts: await partsOf('build First {}'),
      hasFile: (name) => name === 'First_2',
    });
    expect(build?.name).toBe('First_3');
    expect(build?.defaults.map(({ words }) => words)).toEqual(['the name First_3', '4 motors']);
    expect(build?.text).toContain('// By default: the name First_3, 4 motors.\n');
    expect(textOf({ motors: '6' })).not.toContain('By default');
  });

  it('keeps what was typed as the title where it is no name, on one line', () => {
    expect(textOf({ name: 'Owl, the "no. 2"\\' })).toContain('build Owl_the_no_2 "Owl, the \\"no. 2\\"\\\\" {');
    expect(textOf({ name: 'Owl\n}\nbuild\u202e X' })).toContain('build Owl_build_X "Owl } build X" {');
    expect(textOf({ name: '4 eyes' })).toContain('build _4_eyes "4 eyes" {');
  });

  const within = (low: number, high: number, unit: string) =>
    fc.double({ min: low, max: high, noNaN: true }).map((value) => `${Number(value.toPrecision(3))} ${unit}`);
  const count = (low: number, high: number) => fc.integer({ min: low, max: high }).map(String);
  const ANSWERS: fc.Arbitrary<Answers> = fc.record({
    name: anyText(40),
    motors: count(3, 8),
    stator: fc.tuple(count(4, 60), count(2, 20)).map((sides) =>
      sides
        .map(Number)
        .toSorted((one, other) => other - one)
        .join(' x '),
    ),
    kv: within(100, 40_000, 'rpm/V'),
    propeller: within(15, 700, 'mm'),
    blades: count(1, 12),
    cells: count(1, 14),
    capacity: within(20, 30_000, 'mAh'),
    esc: within(0.5, 300, 'A'),
    video: within(0.001, 200, 'W'),
    dryMass: within(5, 5000, 'g'),
  });

  const RUNS = cases(20, 60);

  it('whatever is taken makes a file without one problem of its text', async () => {
    let made = 0;
    await fc.assert(
      fc.asyncProperty(ANSWERS, async (answers) => {
        const build = firstBuild(answers);
        if (!build) {
          expect(Object.keys(problemsWith(answers))).toEqual(['name']);
          return;
        }
        made++;
        const { 'new.fettle': checked } = await checkedIn({ 'new.fettle': build.text });
        expect(checked?.findings.filter(({ build: about }) => about === undefined)).toEqual([]);
        expect(checked?.builds.map(({ build: one, assessments }) => [one.name, assessments.length])).toEqual([
          [build.name, 1],
        ]);
      }),
      { numRuns: RUNS, seed: 20_25 },
    );
    expect(made).toBeGreaterThan(RUNS / 3);
  });

  it('prompts for nine numbers; name and count have defaults', () => {
    expect(QUESTIONS.filter(({ usual }) => usual === undefined)).toHaveLength(9);
    expect(QUESTIONS.filter(({ usual }) => usual !== undefined).map(({ id }) => id)).toEqual(['name', 'motors']);
    for (const { id, examples, read } of QUESTIONS) {
      for (const example of examples) expect(read(example).problem, id).toBeUndefined();
    }
  });
});
