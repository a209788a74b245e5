/** What makes a finding an error, a warning, a note, or nothing: its ±, the rules, what the build accepts, what it is folded into. */
import { describe, expect, it } from 'vitest';
import { EXAMPLE_CRAFT } from '../../packages/language/src/checks/example-craft.ts';
import type { Finding } from '../../packages/language/src/checks/finding.ts';
import { gradeAbove, gradeBelow } from '../../packages/language/src/checks/grade.ts';
import { findingsIn } from './findings-in.ts';

async function check(text: string, rules = ''): Promise<readonly Finding[]> {
  const found = await findingsIn({ 'craft.fettle': EXAMPLE_CRAFT, 'rules.fettle': rules, 'example.fettle': text });
  return (found['example.fettle'] ?? []).filter(({ id }) => id !== 'estimates');
}

const told = (findings: readonly Finding[]) => findings.map(({ severity, id }) => `${severity} ${id}`);

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
    const withMass = (mass: string) => `airframe Frame like Duct90 { mass: ${mass} }
build Limited like Healthy { airframe: Frame  require all_up_weight <= 92.5 g }`;
    expect(told(await check(withMass('40 g measured')))).toEqual(['error overweight']);
    expect(told(await check(withMass('35 g +- 20 %')))).toEqual(['warning overweight']);
    expect(told(await check(withMass('31 g +- 20 %')))).toEqual(['information requirement-unsure']);
    expect(told(await check(withMass('24 g measured')))).toEqual([]);
  });
});

const OVERVOLTED = `without: Slim480_2S
  pack: Slim420_3S as Three duty 80 %`;

describe('rules', () => {
  it('raise and lower a finding; the build beats its rules', async () => {
    expect(told(await check(`build A like Healthy { ${OVERVOLTED} }`))).toEqual(['information motor-overvoltage']);
    const strict = 'rules Strict { raise motor-overvoltage to error }';
    expect(told(await check(`build A like Healthy { rules: Strict  ${OVERVOLTED} }`, strict))).toEqual([
      'error motor-overvoltage',
    ]);
    const own = 'lower motor-overvoltage to hint because "short flights only"';
    expect(told(await check(`build A like Healthy { rules: Strict  ${own}  ${OVERVOLTED} }`, strict))).toEqual([
      'hint motor-overvoltage',
    ]);
  });

  it('keep a margin in hand on a rating', async () => {
    const margin = (share: number) => `build A like Healthy { keep ${share} % in hand on esc.continuous }`;
    expect(told(await check(margin(20)))).toEqual([]);
    const [finding] = await check(margin(95));
    expect(finding).toMatchObject({ id: 'requirement-fails', severity: 'error' });
    expect(finding?.message).toMatch(/95 % in hand on esc\.continuous/);
  });
});

describe('acceptances', () => {
  const accepting = (line: string) => `build A like Healthy { ${OVERVOLTED}  ${line} }`;

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

  it('are reported when nothing is left to accept, and for another pack', async () => {
    expect(told(await check('build A like Healthy { accept pack-oversag because "short" }'))).toEqual([
      'hint stale-acceptance',
    ]);
    expect(
      told(await check(accepting('pack: Slim480_2S  accept motor-overvoltage with Slim480_2S because "x"'))),
    ).toEqual(['information motor-overvoltage', 'hint stale-acceptance']);
  });

  it('are not called stale while a line is half typed', async () => {
    expect(told(await check('build A like Healthy { accept pack-oversag because "short"  esc: }'))).toEqual([
      'error missing-value',
    ]);
  });
});

describe('one cause, one message', () => {
  it('what goes with the cause is told with it', async () => {
    const [finding, ...others] = await check(`pack Weak like Slim420_3S { cell_resistance: 45 mohm measured }
build A like Healthy { without: Slim480_2S  pack: Weak  without: WideCam  without: Receiver }`);
    expect(others.map(({ id }) => id)).not.toContain('pack-overcurrent');
    expect(finding).toMatchObject({ id: 'motor-overvoltage' });
  });

  it('several packs at one line are one finding that names the others', async () => {
    const findings = await check(
      'build A like Healthy { without: Receiver  load: Receiver from pack  pack: Slim420_3S duty 66 % }',
    );
    expect(told(findings)).toEqual(['error rail-overvoltage']);
    expect(findings[0]?.related.some(({ message }) => /^also.*Slim420_3S/.test(message))).toBe(true);
  });

  it('a finding about an inherited line stands in the build that inherits it', async () => {
    const base = `${EXAMPLE_CRAFT}\nbuild Fried { airframe: Duct90  motors: 4 x M1104 with P2020x3  esc: Board20  load: Receiver from pack  pack: Slim480_2S }`;
    const found = await findingsIn({ 'craft.fettle': base, 'example.fettle': 'build Again like Fried { }' });
    const [finding] = found['example.fettle']?.filter(({ id }) => id === 'rail-overvoltage') ?? [];
    expect(finding?.place.uri).toContain('example.fettle');
    expect(finding?.related[0]?.place.uri).toContain('craft.fettle');
  });
});

describe('a hole makes no false alarm', () => {
  it('at any line’s end of a healthy build, only the text itself is complained of', async () => {
    const whole = EXAMPLE_CRAFT.slice(EXAMPLE_CRAFT.indexOf('build Healthy'));
    const parts = EXAMPLE_CRAFT.slice(0, EXAMPLE_CRAFT.indexOf('build Healthy'));
    for (let end = 12; end <= whole.length; end += 3) {
      const text = whole.slice(0, end);
      const found = await findingsIn({ 'parts.fettle': parts, 'craft.fettle': text });
      const craftFindings = (found['craft.fettle'] ?? []).filter(({ build, severity }) => build && severity !== 'hint');
      expect(
        craftFindings.map(({ id }) => id),
        text,
      ).toEqual([]);
    }
  });
});
