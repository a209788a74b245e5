/** Windings that settle with the circuit, against a plain iteration that knows nothing of roots and secants. */
import { describe, expect, test } from 'vitest';
import { type Craft, isImpossible, type OperatingPoint } from '../../packages/language/src/physics/craft.ts';
import { atHoverMultiple, fullDuty } from '../../packages/language/src/physics/flight.ts';
import { motorLoss } from '../../packages/language/src/physics/motor.ts';
import { type HeatPath, warmed } from '../../packages/language/src/physics/windings.ts';
import { ductedCraft } from './sample-craft.ts';

const AIR = 293.15;
/** IEC 60028. */
const ALPHA = 0.00393;

const resistanceOf = ({ rotors: [rotors] }: Craft): number => rotors?.motor.resistance ?? Number.NaN;
const path = (thermalResistance: number): HeatPath => ({ thermalResistance, coldResistance: 0.14 });

const point = (found: OperatingPoint | { impossible: string }): OperatingPoint => {
  if (isImpossible(found as OperatingPoint)) throw new Error('it does not fly');
  return found as OperatingPoint;
};

/** Temperature after so many small steps towards what the losses of the moment would settle at, for a mix of flight. */
function relaxed(craft: Craft, heat: HeatPath): number {
  const [rotors] = craft.rotors;
  if (!rotors) throw new Error('no rotors');
  let temperature = AIR;
  for (let step = 0; step < 4000; step++) {
    const resistance = heat.coldResistance * (1 + ALPHA * (temperature - AIR));
    const motor = { ...rotors.motor, resistance };
    const warm = { ...craft, rotors: [{ ...rotors, motor }] };
    let loss = 0;
    for (const { share, hoverMultiple } of craft.flown) {
      const charge = (1 + craft.pack.reserve) / 2;
      const flown = atHoverMultiple(warm, charge, hoverMultiple);
      const [rotor] = point(isImpossible(flown) ? fullDuty(warm, charge) : flown).rotors;
      if (rotor) loss += share * (motorLoss(motor, rotor.speed, rotor.motorCurrent) + rotor.rippleLoss);
    }
    const next = temperature + 0.02 * (AIR + heat.thermalResistance * loss - temperature);
    if (next > 5000) return Number.POSITIVE_INFINITY;
    temperature = next;
  }
  return temperature;
}

const FLOWN = {
  hovering: [{ share: 1, hoverMultiple: 1 }],
  mixed: [
    { share: 0.7, hoverMultiple: 1 },
    { share: 0.3, hoverMultiple: 50 },
  ],
};

describe('a winding with a thermal resistance', () => {
  test.each([
    ['hovering', 25],
    ['hovering', 60],
    ['mixed', 5],
    ['mixed', 12],
  ] as const)('%s, %d K/W: settles where small steps lead', (flown, thermalResistance) => {
    const craft = ductedCraft({ flown: FLOWN[flown] });
    const { windings, craft: warm } = warmed(craft, [path(thermalResistance)], AIR);
    const expected = relaxed(craft, path(thermalResistance));
    expect(expected).toBeGreaterThan(AIR + 5);
    expect(windings[0]).toBeCloseTo(expected, 5);
    expect(resistanceOf(warm)).toBeCloseTo(0.14 * (1 + ALPHA * (expected - AIR)), 8);
  });

  test('that sheds too little runs away in both, and leaves the craft as it was', () => {
    const craft = ductedCraft({ flown: FLOWN.hovering });
    expect(relaxed(craft, path(3000))).toBe(Number.POSITIVE_INFINITY);
    const { windings, craft: same } = warmed(craft, [path(3000)], AIR);
    expect(windings).toEqual(['runaway']);
    expect(same).toBe(craft);
  });

  test('the poorer the path, the warmer it is, the more it resists, the less it pulls', () => {
    const craft = ductedCraft({ flown: FLOWN.mixed });
    const found = [2, 5, 8, 12].map((thermalResistance) => warmed(craft, [path(thermalResistance)], AIR));
    const temperatures = found.map(({ windings: [temperature] }) => temperature as number);
    const thrusts = found.map(({ craft: warm }) => point(fullDuty(warm, 1)).thrust);
    expect(temperatures).toEqual(temperatures.toSorted((a, b) => a - b));
    expect(thrusts).toEqual(thrusts.toSorted((a, b) => b - a));
    expect(new Set(thrusts).size).toBe(4);
  });

  test('of two groups each settles on its own path; a group without one is left alone', () => {
    const [rotors] = ductedCraft().rotors;
    if (!rotors) throw new Error('no rotors');
    const craft = ductedCraft({
      rotors: [
        { ...rotors, count: 2 },
        { ...rotors, count: 2 },
      ],
      flown: FLOWN.hovering,
    });
    const { windings } = warmed(craft, [path(10), path(40)], AIR);
    expect(windings[1]).toBeGreaterThan(windings[0] as number);
    expect(warmed(craft, [undefined, path(40)], AIR).windings[0]).toBeUndefined();
    expect(warmed(craft, [path(40), path(40)], AIR).windings[0]).toBeCloseTo(
      warmed(ductedCraft({ flown: FLOWN.hovering }), [path(40)], AIR).windings[0] as number,
      4,
    );
  });

  test('of a craft that does not fly has no temperature', () => {
    expect(warmed(ductedCraft({ mass: 30 }), [path(10)], AIR).windings).toEqual([undefined]);
  });
});
