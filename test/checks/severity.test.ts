/** What makes a finding an error, a warning, a note, or nothing: its ±. What it is folded into is in `test/marked/checks`. */
import { describe, expect, it } from 'vitest';
import type { Assessment } from '../../packages/language/src/analysis/assessment.ts';
import { ends } from '../../packages/language/src/analysis/uncertainty/estimate.ts';
import { EXAMPLE_CRAFT } from '../../packages/language/src/checks/example-craft.ts';
import { gradeAbove, gradeBelow } from '../../packages/language/src/checks/grade.ts';
import { CHECKS, PAGES } from '../../packages/language/src/checks/registry.ts';
import type { ResultId } from '../../packages/language/src/vocabulary/results.ts';
import { isGraver } from '../../packages/language/src/vocabulary/severities.ts';
import { oneIn } from '../long.ts';
import { SMALL_CRAFT } from '../small-craft.ts';
import { checkedExample, checkedIn, EXAMPLE, findingsIn } from './findings-in.ts';
import { check, reported } from './on-small-craft.ts';

describe('severity follows the ±', () => {
  const grades = [
    { past: 1, severity: 'warning' },
    { past: 1.5, severity: 'error' },
  ] as const;

  it.each([
    ['the near end past the error', 2, 0.4, 'error'],
    ['the centre past the error, the near end not: a warning at most', 1.7, 0.4, 'warning'],
    ['the centre past the warning', 1.2, 0.4, 'warning'],
    ['only the far end past the warning', 0.8, 0.4, 'undecided'],
    ['nothing past anything', 0.8, 0.1, undefined],
    ['exact, on the threshold', 1, 0, undefined],
    ['exact, past it', 1.01, 0, 'warning'],
  ] as const)('%s', (_, value, plusMinus, severity) => {
    expect(gradeAbove({ value, plusMinus }, grades)).toBe(severity);
    const mirrored = grades.map(({ past, severity: s }) => ({ past: -past, severity: s }));
    expect(gradeBelow({ value: -value, plusMinus }, mirrored)).toBe(severity);
  });

  it('a far end past an information’s threshold alone leaves nothing open', () => {
    expect(gradeAbove({ value: 0.9, plusMinus: 0.3 }, [{ past: 1, severity: 'information' }])).toBeUndefined();
  });

  const KNOWN = `motor Drive like M1506 { resistance: 74 mohm measured  inductance: 15 uH measured  no_load_current: 0.6 A at 11.1 V measured  burst: 30 A for 5 s  continuous: 30 A }
propeller Disc like P3022x3 { thrust_coefficient: 0.18 measured  power_coefficient: 0.14 measured }`;
  const BY_SIZE = `motor Drive { stator: 15 x 6 mm  kv: 3900 rpm/V  rated: 3S  mass: 12.4 g }
propeller Disc like P3022x3 { pitch: 2.2 in }`;

  it.each([
    ['far too small: an error once the drive is measured', 4, 'error', 'warning'],
    ['too small', 5, 'warning', 'warning'],
    ['just enough: quiet once the drive is measured, else an open question', 9, undefined, 'question'],
    ['ample', 20, undefined, undefined],
  ] as const)('the same board, %s', async (_, continuous, measured, bySize) => {
    const board = `esc Small like Board32 { continuous: ${continuous} A  burst: ${1.2 * continuous} A for 10 s }`;
    const graded = async (drive: string) => {
      const text = `${drive}\n${board}\nbuild A like Healthy { esc: Small  motors: 4 x Drive with Disc }`;
      const found = await findingsIn({ 'craft.fettle': SMALL_CRAFT, 'example.fettle': text });
      const findings = found['example.fettle'] ?? [];
      const note = findings.find(({ id }) => id === 'estimates')?.message ?? '';
      const severity = findings.find(({ id }) => id === 'esc-overcurrent')?.severity;
      return severity ?? (note.includes('whether Small stays within its burst rating') ? 'question' : undefined);
    };
    expect(await graded(KNOWN)).toBe(measured);
    expect(await graded(BY_SIZE)).toBe(bySize);
  });
});

describe('checks that never report an error', () => {
  it('never do, in any example of a page', async () => {
    const limited = CHECKS.filter(({ atMost }) => atMost !== undefined);
    let printed = 0;
    for (const { fails } of Object.values(PAGES)) {
      const checked = (await checkedExample(fails))[EXAMPLE];
      for (const { build, assessments } of checked?.builds ?? [])
        for (const check of limited) {
          const ofOptions = assessments.flatMap((assessment) => [
            ...(check.option?.({ build, option: assessment.option, assessment }) ?? []),
          ]);
          for (const { severity } of [...ofOptions, ...(check.build?.({ build, assessments }) ?? [])]) {
            if (severity === 'undecided') continue;
            printed += 1;
            expect(isGraver(severity, check.atMost ?? 'hint'), check.id).toBe(false);
          }
        }
    }
    expect(printed).toBeGreaterThan(limited.length / 2);
  });
});

/** Of thrust-to-weight on a fresh pack. */
function ratioEnds(assessment: Assessment | undefined) {
  const ratio = assessment?.results.get('thrust_to_weight')?.estimate;
  return ratio ? ends(ratio) : { low: Number.NaN, high: Number.NaN };
}

describe('a craft that does not lift itself', () => {
  it('on a fresh pack, is short of what is missing there', async () => {
    const text = `${SMALL_CRAFT}\nbuild Lead like Healthy { item: 1800 g "ballast" }`;
    const { builds, findings } = (await checkedIn({ 'craft.fettle': text }))['craft.fettle'] ?? {};
    const lead = builds?.find(({ build }) => build.name === 'Lead');
    const value = (name: ResultId) => lead?.assessments[0]?.results.get(name)?.estimate.value ?? Number.NaN;
    const short = 1000 * value('all_up_weight') * (1 - value('thrust_to_weight'));
    const stated = findings?.find(({ id, build }) => id === 'cannot-hover' && build === 'Lead')?.message ?? '';
    const [, grams, plusMinus] = /on a fresh pack: the rotors lift (\d+) ± (\d+) g less/.exec(stated) ?? [];
    expect(Math.abs(Number(grams) - short)).toBeLessThan(0.1 * Number(plusMinus));
    const { low = Number.NaN, high = Number.NaN } = lead ? ratioEnds(lead.assessments[0]) : {};
    const half = 500 * value('all_up_weight') * (high - low);
    expect(Number(plusMinus) / half).toBeCloseTo(1, 0);
  });

  it('on a pack that cannot deliver the power, is short of watts with a ±, and certainly so only where none of it reaches enough', async () => {
    const seen = new Set<string>();
    const all = [
      [90, 250],
      [120, 150],
      [120, 450],
      [160, 250],
      [160, 450],
      [160, 600],
    ] as const;
    for (const [milliohms, grams] of oneIn(5, all)) {
      const text = `pack Tired like Mast900_4S { cell_resistance: ${milliohms} mohm measured }
build Weak like Healthy { without: Mast900_4S  pack: Tired  item: ${grams} g "ballast" }`;
      const found = (await findingsIn({ 'craft.fettle': EXAMPLE_CRAFT, 'weak.fettle': text }))['weak.fettle'] ?? [];
      // Where it is not certain, an error of the pack contains it.
      const all = found.flatMap(({ message, related }) => [message, ...related.map((one) => one.message)]);
      const short = all.find((message) => message.includes('short of what hover needs')) ?? '';
      const [, verb, watts, plusMinus] =
        /It ((?:likely )?cannot) hover on Tired .*: the pack is (\d+) ± (\d+) W short/.exec(short) ?? [];
      expect(verb, short).toBe(Number(watts) > Number(plusMinus) ? 'cannot' : 'likely cannot');
      expect(short).toContain('use a pack with less resistance');
      expect(short).not.toContain('a higher duty limit');
      expect(found.filter(({ severity }) => severity === 'error')).not.toEqual([]);
      seen.add(verb ?? '');
    }
    expect([...seen].sort()).toEqual(['cannot', 'likely cannot']);
  });

  it('is an error only where no end of its thrust-to-weight would lift it', async () => {
    for (const grams of oneIn(2, [560, 600, 640, 680, 720, 760, 800, 900])) {
      const text = `propeller Bare { diameter: 76 mm  blades: 3  mass: 1.5 g }
build A like Healthy { motors: 4 x M1506 with Bare  item: ${grams} g "ballast" }`;
      const { builds, findings } =
        (await checkedIn({ 'craft.fettle': `${SMALL_CRAFT}\n${text}` }))['craft.fettle'] ?? {};
      const { high } = ratioEnds(builds?.find(({ build }) => build.name === 'A')?.assessments[0]);
      const found = (findings ?? []).filter(({ build, id }) => build === 'A' && id !== 'estimates');
      // Of what is surely too weak to fly and may yet lift itself, the thrust is the error.
      expect(found.length, String(grams)).toBe(1);
      const [{ id, severity } = { id: '', severity: '' }] = found;
      if (id === 'cannot-hover') expect(severity, String(grams)).toBe(high < 1 ? 'error' : 'warning');
      else expect(id).toBe('low-thrust');
    }
  });
});

it('a pack that gives way altogether is not quieter than one that sags', async () => {
  for (const resistance of oneIn(3, [110, 120, 150])) {
    const dead = `pack Dead like Slim900_3S { discharge: 20C  capacity: 300 mAh  cell_resistance: ${resistance} mohm measured }`;
    const findings = reported(await check(`${dead}\nbuild A like Healthy { without: Slim900_3S  pack: Dead }`));
    expect(findings.filter((one) => one.startsWith('error'))).toHaveLength(1);
    expect(findings[0]).toMatch(/^error (?:pack-oversag|cannot-hover)$/);
  }
});
