/** Craft of all sizes by their data sheets alone, read as a practitioner would: what they show lies within the ±, and leans to neither side. */
import { beforeAll, describe, expect, it } from 'vitest';
import type { Assessment } from '../../packages/language/src/analysis/assessment.ts';
import { expanded } from '../../packages/language/src/analysis/uncertainty/estimate.ts';
import type { Finding } from '../../packages/language/src/checks/finding.ts';
import { interval } from '../../packages/language/src/units/interval.ts';
import { unitNamed } from '../../packages/language/src/units/parse.ts';
import { percent, record } from '../agreement.ts';
import { checkedIn } from '../checks/findings-in.ts';
import { FLOWN_CRAFT, type FlownCraft } from '../reference/flown-craft.ts';

const textOf = ({
  motor: [motor, motorMass],
  propeller,
  rotors,
  duct,
  esc,
  electronics,
  pack,
  dryMass,
}: FlownCraft) => `
motor M { ${motor}  mass: ${motorMass} g }
propeller P { ${propeller}  mass: 1 g }
esc E { channels: ${esc.channels}  continuous: ${esc.amperes} A  mass: 1 g }
airframe A { ${duct === undefined ? '' : `guard_diameter: ${duct}  `}mass: 1 g }
load V { draw: ${electronics} W  mass: 1 g }
pack K { ${pack} }
build Flown {
  airframe: A
  motors: ${rotors} x M with P
  esc: ${esc.channels < rotors ? `${rotors} x ` : ''}E
  load: V from pack
  dry_mass: ${dryMass} g
  pack: K
}`;

const QUANTITIES = [
  ['grams per watt in hover', 'hover_efficiency', 'gf/W', ({ shows }: FlownCraft) => shows.gramsPerWatt],
  ['amperes of a motor at full duty', 'full_motor_current', 'A', ({ shows }: FlownCraft) => shows.motorAmperes],
  ['thrust-to-weight', 'thrust_to_weight', '', ({ shows }: FlownCraft) => shows.thrustToWeight],
] as const;

interface Flown {
  readonly craft: FlownCraft;
  readonly assessment: Assessment;
  readonly findings: readonly Finding[];
}

const all: Flown[] = [];
beforeAll(async () => {
  for (const craft of FLOWN_CRAFT) {
    const { findings = [], builds = [] } = (await checkedIn({ 'a.fettle': textOf(craft) }))['a.fettle'] ?? {};
    const [assessment] = builds[0]?.assessments ?? [];
    if (!assessment) throw new Error(`${craft.name} is not computed`);
    all.push({ craft, assessment, findings });
  }
}, 120_000);

const inUnit = (si: number, unit: string): number => (unit === '' ? si : unitNamed(unit).fromSI(si));

describe.each(QUANTITIES)('%s', (words, name, unit, shown) => {
  it('lies within the ± of every craft', () => {
    const outside = all.flatMap(({ craft, assessment }) => {
      const estimate = assessment.results.get(name)?.estimate;
      const { low, high } = estimate
        ? interval(estimate.value, expanded(estimate))
        : { low: Number.NaN, high: Number.NaN };
      const isInside = shown(craft) >= inUnit(low, unit) && shown(craft) <= inUnit(high, unit);
      return isInside ? [] : [`${craft.name}: ${shown(craft)} not in ${inUnit(low, unit)} .. ${inUnit(high, unit)}`];
    });
    expect(outside).toEqual([]);
  });

  it('is computed neither high nor low over all', () => {
    const logarithms = all.map(({ craft, assessment }) =>
      Math.log(inUnit(assessment.results.get(name)?.estimate.value ?? Number.NaN, unit) / shown(craft)),
    );
    const mean = logarithms.reduce((sum, one) => sum + one, 0) / logarithms.length;
    record({
      id: `flown craft, ${name}`,
      check: `${words} of 20 craft from 36 g to 7.3 kg, from what their data sheets state`,
      source: 'what such craft show',
      standing: 'common practice',
      suite: 'test/analysis/flown-craft.test.ts',
      found: `each within its ±; on average ${percent(Math.abs(Math.expm1(mean)))} ${mean < 0 ? 'below' : 'above'}`,
    });
    expect(Math.abs(mean)).toBeLessThan(0.12);
    expect(logarithms.length).toBe(20);
  });
});

it('none of them shows an error or a warning', () => {
  const reported = all.flatMap(({ craft, findings }) =>
    findings
      .filter(({ severity }) => severity === 'error' || severity === 'warning')
      .map(({ message }) => `${craft.name}: ${message}`),
  );
  expect(reported).toEqual([]);
});
