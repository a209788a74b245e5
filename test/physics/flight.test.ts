import { describe, expect, test } from 'vitest';
import { packCellResistance, packRestingVoltage } from '../../packages/language/src/physics/chemistry.ts';
import { type Craft, isImpossible, type OperatingPoint } from '../../packages/language/src/physics/craft.ts';
import { integrateOverCharge } from '../../packages/language/src/physics/discharge.ts';
import {
  atHoverMultiple,
  atRest,
  flightEndurance,
  fullDuty,
  hover,
  hoverEndurance,
  weight,
} from '../../packages/language/src/physics/flight.ts';
import { motorLoss } from '../../packages/language/src/physics/motor.ts';
import { below, record, worst } from '../agreement.ts';
import { coaxialCraft, ductedCraft, ductedRotors, possible } from './sample-craft.ts';

describe('operating points', () => {
  test('full duty at a hover multiple of exactly the full-duty thrust is the same point', () => {
    const craft = ductedCraft({ loads: [] });
    const full = possible(fullDuty(craft, 0.6));
    const same = possible(atHoverMultiple(craft, 0.6, (full.thrust * (1 - 1e-12)) / weight(craft)));
    expect(same.busVoltage).toBeCloseTo(full.busVoltage, 8);
    expect(same.rotors[0]?.duty).toBeCloseTo(1, 8);
  });

  test('unlike rotors share one duty and add up to the weight', () => {
    const point = possible(hover(coaxialCraft(), 0.7));
    const [front, rear] = point.rotors;
    expect(front?.duty).toBeCloseTo(rear?.duty ?? 0, 12);
    expect(point.thrust / weight(coaxialCraft())).toBeCloseTo(1, 12);
    expect(4 * (front?.thrust ?? 0) + 4 * (rear?.thrust ?? 0)).toBeCloseTo(point.thrust, 10);
  });

  test('a group split in two behaves as one', () => {
    const whole = ductedCraft();
    const split = ductedCraft({
      rotors: [
        { ...ductedRotors, count: 2 },
        { ...ductedRotors, count: 2 },
      ],
    });
    expect(possible(hover(split, 0.5)).busVoltage).toBeCloseTo(possible(hover(whole, 0.5)).busVoltage, 10);
    expect(possible(fullDuty(split, 0.5)).packCurrent).toBeCloseTo(possible(fullDuty(whole, 0.5)).packCurrent, 9);
  });

  test('a duty limit at the ratio of the cells is full duty on fewer cells, in volts at the motor (common practice)', () => {
    const ideal = { ...ductedCraft().pack, positionResistance: 1e-9, leadResistance: 1e-9 };
    const more = ductedCraft({ pack: { ...ideal, cellsInSeries: 5 }, dutyLimit: 2 / 5 });
    const fewer = ductedCraft({ pack: ideal });
    const [limited, plain] = [possible(fullDuty(more, 1)), possible(fullDuty(fewer, 1))];
    expect(limited.rotors[0]?.speed).toBeCloseTo(plain.rotors[0]?.speed ?? 0, 2);
  });

  test('the part-duty factor raises hover power, and leaves full duty alone', () => {
    const plain = ductedCraft();
    const raised = ductedCraft({ partDutyPowerFactor: 1.3 });
    const channel = (craft: Craft): number => possible(hover(craft, 0.6)).rotors[0]?.busCurrent ?? 0;
    expect(channel(raised) / channel(plain)).toBeGreaterThan(1.25);
    expect(possible(fullDuty(raised, 0.6)).packCurrent).toBeCloseTo(possible(fullDuty(plain, 0.6)).packCurrent, 10);
  });

  test('at rest only the electronics draw', () => {
    const point = possible(atRest(ductedCraft(), 0.5));
    expect(point.rotors.map(({ busCurrent }) => busCurrent)).toEqual([0]);
    // 0.06 A of the boards, 4 W, and 0.88-efficient 5 V rail with 0.6 W and 0.082 A on it, 4 mA of its own.
    const expected = 0.064 + (4 + (0.6 + 5 * 0.082) / 0.88) / point.busVoltage;
    expect(point.packCurrent).toBeCloseTo(expected, 10);
  });
});

describe('a whole flight', () => {
  test.each([
    ['ducted', ductedCraft()],
    ['coaxial pairs', coaxialCraft({ partDutyPowerFactor: 1 })],
  ])('%s: chemical energy in is heat and work out, to 1e-6, and the time agrees with a fine sum', (kind, craft) => {
    const { pack } = craft;
    const chemical = pack.capacity * integrateOverCharge((charge) => packRestingVoltage(pack, charge), pack.reserve, 1);

    let spent = 0;
    let time = 0;
    const steps = 4000;
    for (let i = 0; i < steps; i++) {
      const charge = pack.reserve + ((1 - pack.reserve) * (i + 0.5)) / steps;
      const point = possible(hover(craft, charge));
      const seconds = (pack.capacity * (1 - pack.reserve)) / steps / point.packCurrent;
      spent += seconds * heatAndWork(craft, point, charge);
      time += seconds;
    }
    expect(spent / chemical).toBeCloseTo(1, 6);
    const endurance = possible(hoverEndurance(craft));
    expect(endurance.time / time).toBeCloseTo(1, 6);
    record({
      id: `energy, ${kind}`,
      check: `energy of a whole discharge, ${kind}: chemical in against heat and work out; flight time against a sum of ${steps} steps`,
      source: 'conservation of energy',
      standing: 'computed',
      suite: 'test/physics/flight.test.ts',
      found: `energy ${below(Math.abs(spent / chemical - 1))}, time ${below(Math.abs(endurance.time / time - 1))}`,
    });
    expect(endurance.endedBy).toBe('reserve');
    expect(endurance.chargeUsed).toBeCloseTo(pack.capacity * (1 - pack.reserve), 8);
  });

  function heatAndWork(craft: Craft, point: OperatingPoint, charge: number): number {
    const packHeat = point.packCurrent ** 2 * (packCellResistance(craft.pack, charge) + craft.pack.leadResistance);
    let sum = packHeat + craft.escStandbyCurrent * point.busVoltage;
    point.rotors.forEach((rotor, i) => {
      const group = craft.rotors[i];
      if (!group) return;
      const heat =
        motorLoss(group.motor, rotor.speed, rotor.motorCurrent) + rotor.motorCurrent ** 2 * group.esc.resistance;
      sum += group.count * (rotor.shaftPower + heat + rotor.rippleLoss);
    });
    for (const load of craft.loads) {
      const volts = load.from === 'bus' ? point.busVoltage : (point.rails[load.from]?.voltage ?? 0);
      sum += load.kind === 'power' ? load.draw : load.draw * volts;
    }
    craft.rails.forEach((rail, i) => {
      const state = point.rails[i];
      const source = rail.from === 'bus' ? point.busVoltage : (point.rails[rail.from]?.voltage ?? 0);
      if (state) sum += source * state.inputCurrent - state.voltage * state.current;
    });
    return sum;
  }

  /** Power as the 1.5th power of mass: no losses but the rotor's, a pack that does not sag, energy in proportion to its mass. */
  function idealCraft(packMass: number): Craft {
    const lossless = { ...ductedRotors.motor, resistance: 1e-9, commutationSlope: 0, noLoadCurrent: 0, inductance: 1 };
    return ductedCraft({
      mass: 0.1 + packMass,
      rotors: [{ ...ductedRotors, motor: lossless, esc: { ...ductedRotors.esc, resistance: 1e-9 } }],
      rails: [],
      loads: [],
      escStandbyCurrent: 0,
      pack: {
        ...ductedCraft().pack,
        positionResistance: 1e-9,
        leadResistance: 1e-9,
        capacity: packMass * 4e4,
        reserve: 0,
      },
    });
  }

  // M. Gatti, F. Giulietti, M. Turci, Aerospace Sci. Technol. 45 (2015) 174 (from memory); computed: pack over dry mass, share of
  // the longest hover.
  test.each([
    [0.25, 0.464758],
    [0.5, Math.SQRT1_2],
    [1, 0.9185587],
    [1.5, 0.9859006],
    [3, 0.9742786],
  ])(
    'an ideal pack of %d times the dry mass gives %d of the longest hover, which twice the dry mass gives',
    (ratio, share) => {
      const longest = possible(hoverEndurance(idealCraft(0.2))).time;
      expect(possible(hoverEndurance(idealCraft(0.1 * ratio))).time / longest).toBeCloseTo(share, 6);
    },
  );

  test('agreement with the best mass of an ideal pack', () => {
    const shares = [
      [0.25, 0.464758],
      [1, 0.9185587],
      [3, 0.9742786],
    ] as const;
    const longest = possible(hoverEndurance(idealCraft(0.2))).time;
    record({
      id: 'pack, best mass',
      check: 'an ideal pack hovers longest at twice the dry mass; share of that time at other masses',
      source: 'M. Gatti, F. Giulietti, M. Turci, Aerospace Sci. Technol. 45 (2015) 174',
      standing: 'from memory',
      suite: 'test/physics/flight.test.ts',
      found: `largest difference ${below(worst(shares.map(([ratio, share]) => possible(hoverEndurance(idealCraft(0.1 * ratio))).time / longest - share)))}`,
    });
  });

  test('time on the ground costs its charge, and nothing else', () => {
    const craft = ductedCraft({ flown: [{ share: 1, hoverMultiple: 1 }], groundTime: 120 });
    const [waited, direct] = [possible(flightEndurance(craft)), possible(hoverEndurance(craft))];
    const rest = possible(atRest(craft, 0.98)).packCurrent;
    const lost = (120 * rest) / possible(hover(craft, 0.98)).packCurrent;
    expect(direct.time - waited.time).toBeCloseTo(lost, 0);
    expect(waited.chargeUsed).toBe(direct.chargeUsed);
    const parked = possible(flightEndurance({ ...craft, groundTime: 1e5 }));
    expect(parked.time).toBe(0);
  });

  test('a mix lies between its phases, and a phase beyond full duty counts as full duty', () => {
    const flown = (hoverMultiple: number) =>
      possible(flightEndurance(ductedCraft({ groundTime: 0, flown: [{ share: 1, hoverMultiple }] }))).time;
    const mixed = possible(flightEndurance(ductedCraft({ groundTime: 0 }))).time;
    expect(mixed).toBeLessThan(flown(1.05));
    expect(mixed).toBeGreaterThan(flown(1.8));
    expect(flown(50)).toBe(flown(60));
  });

  test('ends at the brown-out of a load that needs more than the pack still supplies', () => {
    const craft = ductedCraft({ loads: [{ from: 'bus', kind: 'power', draw: 4, peak: 6, minimumVoltage: 7.4 }] });
    const flight = possible(hoverEndurance(craft));
    expect(flight.endedBy).toBe('brown-out');
    expect(flight.finalStateOfCharge).toBeGreaterThan(0.2);
    expect(possible(hover(craft, flight.finalStateOfCharge)).busVoltage).toBeCloseTo(7.4, 9);
  });

  test('ends where the rotors no longer lift it, or the pack collapses', () => {
    const heavy = ductedCraft({ mass: 0.4, loads: [] });
    const flight = possible(hoverEndurance(heavy));
    expect(flight.endedBy).toBe('thrust');
    expect(possible(hover(heavy, flight.finalStateOfCharge + 1e-9)).rotors[0]?.duty).toBeCloseTo(1, 6);
    expect(isImpossible(hover(heavy, flight.finalStateOfCharge - 1e-6))).toBe(true);

    const weak = ductedCraft({
      mass: 0.1,
      pack: { ...ductedCraft().pack, cellsInSeries: 3, positionResistance: 0.35 },
    });
    const collapsed = possible(hoverEndurance(weak));
    expect(collapsed.endedBy).toBe('power');
    expect(isImpossible(hover(weak, collapsed.finalStateOfCharge + 1e-6))).toBe(false);
    expect(isImpossible(hover(weak, collapsed.finalStateOfCharge - 1e-6))).toBe(true);
  });
});
