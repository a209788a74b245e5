/** What makes a finding an error, a warning, a note, or nothing: its ±, the rules, what the build accepts, what it is folded into. */
import { describe, expect, it } from 'vitest';
import type { Assessment } from '../../packages/language/src/analysis/assessment.ts';
import { ends } from '../../packages/language/src/analysis/uncertainty/estimate.ts';
import { EXAMPLE_CRAFT } from '../../packages/language/src/checks/example-craft.ts';
import type { Finding } from '../../packages/language/src/checks/finding.ts';
import { gradeAbove, gradeBelow, RANK } from '../../packages/language/src/checks/grade.ts';
import { CHECKS, PAGES } from '../../packages/language/src/checks/registry.ts';
import { SMALL_CRAFT } from '../small-craft.ts';
import { checkedIn, findingsIn } from './findings-in.ts';

async function check(text: string, rules = '', craft = SMALL_CRAFT): Promise<readonly Finding[]> {
  const found = await findingsIn({ 'craft.fettle': craft, 'rules.fettle': rules, 'example.fettle': text });
  return (found['example.fettle'] ?? []).filter(({ id }) => id !== 'estimates');
}

const reported = (findings: readonly Finding[]) => findings.map(({ severity, id }) => `${severity} ${id}`);

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

  it('the same weight limit: measured parts make it an error, parts by their pages a warning or a note', async () => {
    const withMass = (mass: string) => `airframe Frame like Open152 { mass: ${mass} }
build Limited like Healthy { airframe: Frame  require all_up_weight <= 218.5 g }`;
    expect(reported(await check(withMass('58 g measured')))).toEqual(['error overweight']);
    expect(reported(await check(withMass('54 g +- 20 %')))).toEqual(['warning overweight']);
    expect(reported(await check(withMass('45 g +- 20 %')))).toEqual(['information requirement-unsure']);
    expect(reported(await check(withMass('38 g measured')))).toEqual([]);
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

  it('what surely cannot hover is an error, what likely cannot a warning', async () => {
    const [surely, ...one] = await check('build A like Healthy { item: 1800 g "ballast" }');
    expect(one).toEqual([]);
    expect(surely).toMatchObject({ id: 'cannot-hover', severity: 'error' });
    expect(surely?.message).toMatch(/^It cannot hover/);
    const [likely, ...two] = await check(`propeller Bare { diameter: 76 mm  blades: 3  mass: 1.5 g }
build A like Healthy { motors: 4 x M1506 with Bare  item: 600 g "ballast" }`);
    expect(two).toEqual([]);
    expect(likely).toMatchObject({ id: 'cannot-hover', severity: 'warning' });
    expect(likely?.message).toMatch(/^It likely cannot hover/);
  });
});

const OVERVOLTED = `without: Slim900_3S
  pack: Slim700_5S as Three duty 72 %`;

describe('checks that never report an error', () => {
  it('never do, in any example of a page', async () => {
    const limited = CHECKS.filter(({ atMost }) => atMost !== undefined);
    let printed = 0;
    for (const { fails } of Object.values(PAGES)) {
      const checked = (await checkedIn({ 'craft.fettle': EXAMPLE_CRAFT, 'page.fettle': fails }))['page.fettle'];
      for (const { build, assessments } of checked?.builds ?? [])
        for (const check of limited) {
          const ofOptions = assessments.flatMap((assessment) => [
            ...(check.option?.({ build, option: assessment.option, assessment }) ?? []),
          ]);
          for (const { severity } of [...ofOptions, ...(check.build?.({ build, assessments }) ?? [])]) {
            if (severity === 'undecided') continue;
            printed += 1;
            expect(RANK[severity], check.id).toBeLessThanOrEqual(RANK[check.atMost ?? 'hint']);
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
    const value = (name: string) => lead?.assessments[0]?.results.get(name)?.estimate.value ?? Number.NaN;
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
    for (const [milliohms, grams] of [
      [90, 250],
      [120, 150],
      [120, 450],
      [160, 250],
      [160, 450],
      [160, 600],
    ]) {
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
    for (const grams of [560, 600, 640, 680, 720, 760, 800, 900]) {
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

describe('rules', () => {
  it('raise and lower a finding; the build beats its rules', async () => {
    expect(reported(await check(`build A like Healthy { ${OVERVOLTED} }`))).toEqual(['information motor-overvoltage']);
    const strict = 'rules Strict { raise motor-overvoltage to error }';
    expect(reported(await check(`build A like Healthy { rules: Strict  ${OVERVOLTED} }`, strict))).toEqual([
      'error motor-overvoltage',
    ]);
    const own = 'lower motor-overvoltage to hint because "short flights only"';
    expect(reported(await check(`build A like Healthy { rules: Strict  ${own}  ${OVERVOLTED} }`, strict))).toEqual([
      'hint motor-overvoltage',
    ]);
  });

  it('never lower what they raise, nor raise what they lower', async () => {
    const worst = (line: string) => check(`build A like Healthy { ${OVERVOLTED}  ${line} }`);
    const rulings = ['', 'raise A to error', 'lower A to hint', 'lower A to warning', 'raise A to information'];
    const found: (string | undefined)[] = [];
    for (const ruling of rulings)
      found.push(reported(await worst(ruling && `${ruling.replace('A', 'motor-overvoltage')} because "x"`))[0]);
    expect(found).toEqual(
      ['information', 'error', 'hint', 'information', 'information'].map((severity) => `${severity} motor-overvoltage`),
    );
  });

  it('keep a margin on every rail that has a rating, and report where nothing has one', async () => {
    const tight = 'esc Tight like Board32 { rail logic { continuous: 80 mA } }';
    const kept = await check(
      `${tight}\nbuild A like Healthy { esc: Tight  without: Receiver  load: Receiver from Tight.logic  keep 60 % in reserve on rail.continuous }`,
    );
    expect(reported(kept)).toEqual(['error requirement-fails']);
    expect(kept[0]?.message).toMatch(/60 % in reserve on rail\.logic\.continuous/);
    const [unjudged, ...others] = await check('build A like Healthy { keep 20 % in reserve on motor.power }');
    expect(others).toEqual([]);
    expect(unjudged).toMatchObject({ id: 'requirement-unsure', severity: 'information' });
    expect(unjudged?.message).toMatch(/no motor of A states its power/);
  });

  it('keep a margin in reserve on a rating', async () => {
    const margin = (share: number) => `build A like Healthy { keep ${share} % in reserve on esc.continuous }`;
    expect(reported(await check(margin(20)))).toEqual([]);
    const [finding] = await check(margin(95));
    expect(finding).toMatchObject({ id: 'requirement-fails', severity: 'error' });
    expect(finding?.message).toMatch(/95 % in reserve on esc\.continuous/);
  });
});

describe('a requirement that cannot be computed', () => {
  it('is reported, with what is not stated', async () => {
    const [finding, ...others] = await check('build Windy like Healthy { require wind_held >= 8 m/s }');
    expect(others).toEqual([]);
    expect(finding).toMatchObject({ id: 'requirement-unsure', severity: 'information' });
    expect(finding?.message).toMatch(/`wind_held >= 8 m\/s` cannot be judged.*drag area/);
  });

  it('is no news while the build cannot fly, or is half written', async () => {
    const asking = 'require wind_held >= 8 m/s';
    expect(reported(await check(`build Lead like Healthy { item: 1800 g "ballast"  ${asking} }`))).toEqual([
      'error cannot-hover',
    ]);
    expect(reported(await check(`build Half like Healthy { load:\n ${asking} }`))).toEqual(['error missing-value']);
  });

  it('is one message with a winding that runs away', async () => {
    const hot = `motor Wrapped like M1506 { thermal_resistance: 400 K/W measured }
build Hot like Healthy { motors: 4 x Wrapped with P3022x3  require motor_temperature <= 90 degC }`;
    expect(reported(await check(hot))).toEqual(['error motor-overheat']);
  });
});

describe('acceptances', () => {
  const accepting = (line: string) => `build A like Healthy { ${OVERVOLTED}  ${line} }`;

  it('without a pack hold for all of them, and only as far as their number goes', async () => {
    const two = 'without: Slim900_3S  pack: Slim700_5S as Some duty 72 %  pack: Slim700_5S as All';
    const all = await check(`build A like Healthy { ${two}  accept motor-overvoltage because "two flights" }`);
    expect(all.map(({ accepted }) => accepted)).toEqual(['two flights', 'two flights']);
    const some = await check(
      `build A like Healthy { ${two}  accept motor-overvoltage below 1.3 because "two flights" }`,
    );
    expect(some.map(({ pack, accepted }) => `${pack}: ${accepted}`)).toEqual(['Some: two flights', 'All: undefined']);
  });

  it('need a reason', async () => {
    const findings = reported(await check(accepting('accept motor-overvoltage with Three')));
    expect(findings).toContain('error missing-value');
  });

  it('are not inherited', async () => {
    const base = `build A like Healthy { ${OVERVOLTED}  accept motor-overvoltage because "one flight" }`;
    const [ofA, ofB] = await check(`${base}\nbuild B like A { item: 1 g "tape" }`);
    expect([ofA?.accepted, ofB?.accepted]).toEqual(['one flight', undefined]);
  });

  it('keep the finding, with its reason', async () => {
    const [finding, ...others] = await check(accepting('accept motor-overvoltage with Three because "one flight"'));
    expect(finding).toMatchObject({ id: 'motor-overvoltage', accepted: 'one flight' });
    expect(others).toEqual([]);
  });

  it('end where the number gets worse than what was accepted', async () => {
    const [finding] = await check(accepting('accept motor-overvoltage below 1.1 because "one flight"'));
    expect(finding?.accepted).toBeUndefined();
    expect(finding?.message).toMatch(/accepted below 1\.1; it is now 1\.2/);
  });

  it.each([
    ['30 A', /accepted below 30 A, but what counts is 1\.2/],
    ['150 V', /accepted below 150 V, but what counts is 1\.2/],
  ])('up to a number of another sort, %s, accept nothing', async (below, description) => {
    const [finding] = await check(accepting(`accept motor-overvoltage below ${below} because "one flight"`));
    expect(finding?.accepted).toBeUndefined();
    expect(finding?.message).toMatch(description);
  });

  it('of a share need its percent: 95 may mean the whole ninety-five times', async () => {
    const { fails = '' } = PAGES['high-hover-duty'] ?? {};
    const acceptedBelow = async (below: string) => {
      const text = fails.replace(/\}$/, `  accept high-hover-duty below ${below} because "short"\n}`);
      const [finding] = await check(text, '', EXAMPLE_CRAFT);
      return [finding?.id, finding?.accepted];
    };
    expect(await acceptedBelow('99 %')).toEqual(['high-hover-duty', 'short']);
    expect(await acceptedBelow('99')).toEqual(['high-hover-duty', undefined]);
  });

  it('have no number where a higher one is not worse: below it, volts may fall as far as they like', async () => {
    const { fails = '' } = PAGES['rail-undervoltage'] ?? {};
    const text = fails.replace(/\}$/, '  accept rail-undervoltage below 7 V because "tried it"\n}');
    const found = await check(text, '', EXAMPLE_CRAFT);
    expect(reported(found)).toEqual([expect.stringMatching(/rail-undervoltage$/), 'error clause']);
    expect(found.every(({ accepted }) => accepted === undefined)).toBe(true);
  });

  it('are not idle while what they accept is reported with its cause', async () => {
    const heavy = 'build Heavy like Healthy { item: 500 g "ballast"  accept high-hover-duty because "short hops" }';
    const found = await check(heavy);
    expect(reported(found)).toEqual([expect.stringMatching(/low-thrust|cannot-hover/)]);
  });

  it('are reported when nothing is left to accept, and for another pack', async () => {
    expect(reported(await check('build A like Healthy { accept pack-oversag because "short" }'))).toEqual([
      'hint stale-acceptance',
    ]);
    expect(
      reported(await check(accepting('pack: Slim900_3S  accept motor-overvoltage with Slim900_3S because "x"'))),
    ).toEqual(['information motor-overvoltage', 'hint stale-acceptance']);
  });

  it('are not called stale while a line is half typed', async () => {
    expect(reported(await check('build A like Healthy { accept pack-oversag because "short"  esc: }'))).toEqual([
      'error missing-value',
    ]);
  });
});

describe('one cause, one message', () => {
  it('of several motors past their cells the one with the fewest is reported, and its limit mends all', async () => {
    const mixed = (duty: string) => `motor Three like M1506 { rated: 3S }
motor Four like M1506 { rated: 4S }
pack Six like Slim700_5S { cells: 6S  mass: 112 g }
build Mixed like Healthy {
  motors: 2 x Four with P3022x3
  motors: 2 x Three with P3022x3
  without: Slim900_3S
  pack: Six${duty}
}`;
    const over = (findings: readonly Finding[]) => findings.filter(({ id }) => id === 'motor-overvoltage');
    const [finding, ...others] = over(await check(mixed('')));
    expect(others).toEqual([]);
    expect(finding?.message).toMatch(/^Three is wound for 3S/);
    expect(finding?.fixes[0]?.edits[0]?.newText).toBe(' duty 50 %');
    expect(over(await check(mixed(' duty 50 %')))).toEqual([]);
  });

  /** `id` of each finding, with those that it reports in addition. */
  const causes = (findings: readonly Finding[]) =>
    findings.map(({ id, related }) => [
      id,
      ...related.flatMap(({ message }) => /^and with it ([a-z-]+)/.exec(message)?.[1] ?? []),
    ]);

  it('what a duty limit for the motors cures as well is reported with them', async () => {
    const thin = 'motor Thin like M1506 { burst: 9.4 A for 5 s }';
    const found = await check(
      `${thin}\nbuild A like Healthy { motors: 4 x Thin with P3022x3  without: Slim900_3S  pack: Slim700_5S }`,
    );
    expect(causes(found)).toEqual([['motor-overvoltage', 'motor-overcurrent']]);
  });

  it('a weak pack’s sag, its current and the loads that brown out by it are one; a load that would on a sound pack is another', async () => {
    const weak = 'pack Weak like Slim900_3S { capacity: 420 mAh  discharge: 40C  cell_resistance: 90 mohm measured }';
    const onIt = 'without: Slim900_3S  pack: Weak';
    expect(causes(await check(`${weak}\nbuild A like Healthy { ${onIt} }`))).toEqual([
      ['pack-oversag', 'pack-overcurrent', 'rail-undervoltage', 'regulator-dropout', 'low-thrust'],
    ]);
    const demanding = 'load Hungry like WideCam { supply: 10.5 V .. 28 V }';
    const straight = `${onIt}  without: WideCam  load: Hungry from pack`;
    const both = causes(await check(`${weak}\n${demanding}\nbuild A like Healthy { ${straight} }`));
    expect(both.map(([id]) => id).sort()).toEqual(['pack-oversag', 'rail-undervoltage']);
  });

  it('a pack that gives way altogether is not quieter than one that sags', async () => {
    for (const resistance of [110, 120, 150]) {
      const dead = `pack Dead like Slim900_3S { discharge: 20C  capacity: 300 mAh  cell_resistance: ${resistance} mohm measured }`;
      const findings = reported(await check(`${dead}\nbuild A like Healthy { without: Slim900_3S  pack: Dead }`));
      expect(findings.filter((one) => one.startsWith('error'))).toHaveLength(1);
      expect(findings[0]).toMatch(/^error (?:pack-oversag|cannot-hover)$/);
    }
  });

  it('too many cells for the board: what fewer would not cure keeps its own message', async () => {
    const onEight = 'without: Slim900_3S  pack: Long850_8S duty 33 %';
    expect(causes(await check(`build A like Healthy { ${onEight} }`))).toEqual([['esc-overvoltage']]);
    const narrow = 'load Narrow like WideCam { supply: 5.2 V .. 27 V }';
    const withNarrow = `${narrow}\nbuild A like Healthy { ${onEight}  without: WideCam  load: Narrow from pack }`;
    expect(causes(await check(withNarrow))).toEqual([['esc-overvoltage', 'rail-overvoltage']]);
    const fried = `build A like Healthy { ${onEight}  without: Receiver  load: Receiver from pack }`;
    expect(
      causes(await check(fried))
        .map(([id]) => id)
        .sort(),
    ).toEqual(['esc-overvoltage', 'rail-overvoltage']);
  });

  it('a rail that runs out of input is one message for all its loads', async () => {
    const board = 'load Second like WideCam { mass: 2 g }\nesc Stepping like Board32 { cells: 2S .. 6S }';
    const loads =
      'without: WideCam  without: Receiver  load: WideCam from Stepping.video  load: Second from Stepping.video';
    const single = `esc: Stepping  without: Slim900_3S  pack: Stick450_2S`;
    const findings = await check(`${board}\nbuild A like Healthy { ${loads}  ${single} }`);
    const ofRail = findings.filter(({ id }) => id === 'rail-undervoltage' || id === 'regulator-dropout');
    expect(ofRail.map(({ id }) => id)).toEqual(['rail-undervoltage']);
    expect(ofRail[0]?.related.map(({ message }) => message)).toContainEqual(expect.stringMatching(/^also: /));
  });

  it('several packs at one line are one finding that names the others', async () => {
    const findings = await check(
      'build A like Healthy { without: Receiver  load: Receiver from pack  pack: Slim700_5S duty 58 % }',
    );
    expect(reported(findings)).toEqual(['error rail-overvoltage']);
    expect(findings[0]?.related.some(({ message }) => /^also.*Slim700_5S/.test(message))).toBe(true);
  });

  it('a finding about an inherited line is in the build that inherits it', async () => {
    const base = `${SMALL_CRAFT}\nbuild Fried { airframe: Open152  motors: 4 x M1506 with P3022x3  esc: Board32  load: Receiver from pack  pack: Slim900_3S }`;
    const found = await findingsIn({ 'craft.fettle': base, 'example.fettle': 'build Again like Fried { }' });
    const [finding] = found['example.fettle']?.filter(({ id }) => id === 'rail-overvoltage') ?? [];
    expect(finding?.place.uri).toContain('example.fettle');
    expect(finding?.related[0]?.place.uri).toContain('craft.fettle');
  });
});
