/** Random craft over the whole plausible range: 31 mm single-cell ducted to 380 mm on eight cells, with rails and chains. */
import fc from 'fast-check';
import type { Craft, Load, Rail, RotorGroup, Source } from '../../packages/language/src/physics/craft.ts';
import { estimateCoefficients } from '../../packages/language/src/physics/propeller-estimate.ts';
import { sampleMotor } from './sample-craft.ts';

const RPM = (2 * Math.PI) / 60;

const between = (min: number, max: number) => fc.double({ min, max, noNaN: true, noDefaultInfinity: true });
/** Evenly spread over the logarithm. */
const scale = (min: number, max: number) => between(Math.log(min), Math.log(max)).map(Math.exp);

const rail = fc.record({
  feeds: fc.nat(3),
  type: fc.constantFrom('buck' as const, 'boost' as const, 'buck_boost' as const, 'linear' as const),
  output: fc.constantFrom(3.3, 5, 9, 12),
  dropout: between(0, 1.2),
  efficiency: between(0.7, 0.97),
  standbyCurrent: between(0, 0.02),
});

const load = fc.record({
  feeds: fc.nat(3),
  kind: fc.constantFrom('power' as const, 'current' as const),
  draw: scale(0.02, 0.6),
  surplus: between(1, 1.8),
});

const group = fc.record({
  count: fc.constantFrom(2, 3, 4, 6, 8),
  pitchRatio: between(0.35, 1),
  blades: fc.integer({ min: 2, max: 5 }),
  thrustScatter: scale(0.75, 1.3),
  powerScatter: scale(0.75, 1.3),
  resistanceScatter: scale(0.5, 2),
  inductanceScatter: scale(0.4, 2),
  commutationLossShare: between(0.2, 0.9),
  escResistance: scale(0.002, 0.02),
  pwmFrequency: fc.constantFrom(16e3, 24e3, 48e3, 96e3),
  thrustGain: between(0.95, 1.2),
  coaxialFactor: fc.constantFrom(1, 1, 0.87),
});

const shape = fc.record({
  diameter: scale(0.031, 0.38),
  cells: fc.integer({ min: 1, max: 8 }),
  tipSpeed: between(70, 190),
  thrustToWeight: scale(1.15, 6),
  groups: fc.array(group, { minLength: 1, maxLength: 2 }),
  unlike: between(0.9, 1.1),
  rails: fc.array(rail, { maxLength: 3 }),
  loads: fc.array(load, { maxLength: 4 }),
  chemistry: fc.constantFrom('lipo' as const, 'lihv' as const, 'liion' as const),
  sag: scale(0.02, 0.25),
  leadShare: between(0.05, 0.5),
  minutes: between(2, 30),
  reserve: between(0.1, 0.3),
  restingOffset: between(-0.03, 0.03),
  resistanceGrowthShare: between(0.6, 1.4),
  dutyLimit: fc.oneof(fc.constant(1), between(0.6, 1)),
  partDutyPowerFactor: between(1, 1.4),
  density: between(0.9, 1.35),
  burstMultiple: between(1.3, 3),
  groundTime: between(0, 60),
  chargeOffset: between(-0.02, 0.02),
});

export const plausibleCraft: fc.Arbitrary<Craft> = shape.map((s) => {
  const full = 3.9 * s.cells;
  const rotors: RotorGroup[] = s.groups.map((g, i) => {
    const diameter = s.diameter * (i === 0 ? 1 : s.unlike);
    const size = { diameter, pitch: g.pitchRatio * diameter, blades: g.blades };
    const estimate = estimateCoefficients(size);
    // Power follows thrust by momentum theory, at a figure of merit of 0.45 to 0.65 over the scatter.
    const thrustCoefficient = estimate.thrustCoefficient * g.thrustScatter;
    const powerCoefficient = ((thrustCoefficient ** 1.5 * 0.8) / 0.55) * g.powerScatter ** 0.5;
    const speedConstant = (2 * s.tipSpeed) / diameter / full;
    const stator = Math.min(60, Math.max(6, (0.2 * diameter * 1000) / 1.2));
    const motor = sampleMotor(speedConstant / RPM, stator, Math.max(2, stator / 3.5));
    // Larger than the scaling law where the propeller requests it: stalled current at least five times the full one.
    const fullPower =
      (powerCoefficient * s.density * diameter ** 5 * (0.7 * (speedConstant * full)) ** 3) / (2 * Math.PI) ** 3;
    const suited = Math.min(motor.resistance, (0.12 * full ** 2) / fullPower) * g.resistanceScatter;
    const drop = Math.min(motor.commutationSlope, (0.12 * full ** 2) / fullPower / (0.7 * speedConstant * full));
    return {
      count: g.count,
      motor: {
        ...motor,
        resistance: suited,
        inductance: motor.inductance * g.inductanceScatter,
        commutationSlope: drop * g.inductanceScatter,
        commutationLossShare: g.commutationLossShare,
        noLoadCurrent: (0.04 * fullPower) / full,
        noLoadSpeed: speedConstant * full,
      },
      propeller: { diameter, thrustCoefficient, powerCoefficient },
      esc: { resistance: Math.min(g.escResistance, suited / 3), pwmFrequency: g.pwmFrequency },
      thrustGain: g.thrustGain,
      coaxialFactor: g.coaxialFactor,
    };
  });

  const speedAtFull = (group: RotorGroup): number => 0.72 * group.motor.speedConstant * full * s.dutyLimit;
  const fullThrust = rotors.reduce(
    (sum, group) =>
      sum +
      (group.count *
        group.thrustGain *
        group.coaxialFactor *
        group.propeller.thrustCoefficient *
        s.density *
        speedAtFull(group) ** 2 *
        group.propeller.diameter ** 4) /
        (2 * Math.PI) ** 2,
    0,
  );
  const fullPower = rotors.reduce(
    (sum, group) =>
      sum +
      (group.count *
        group.propeller.powerCoefficient *
        s.density *
        speedAtFull(group) ** 3 *
        group.propeller.diameter ** 5) /
        (2 * Math.PI) ** 3,
    0,
  );
  const hoverPower = (1.5 * fullPower) / s.thrustToWeight ** 1.5;
  const fullCurrent = (1.5 * fullPower) / full;
  const resistance = (s.sag * full) / fullCurrent;

  const source = (feeds: number, below: number): Source => (feeds < below ? feeds : 'bus');
  const rails: Rail[] = s.rails.map(({ feeds, ...figures }, i) => {
    const from = source(feeds, i);
    // Nobody feeds a step-down from a pack that is below its output from the start.
    const stepsUp = from === 'bus' && figures.output > 3.4 * s.cells;
    return { ...figures, from, type: stepsUp ? 'boost' : figures.type };
  });
  const electronics = Math.max(0.3, 0.2 * hoverPower);
  const loads: Load[] = s.loads.map(({ feeds, kind, draw, surplus }) => {
    const from = source(feeds, rails.length);
    const volts = from === 'bus' ? full : (rails[from as number] as Rail).output;
    const amount = kind === 'power' ? draw * electronics : (draw * electronics) / volts;
    return { from, kind, draw: amount, peak: amount * surplus };
  });

  return {
    mass: fullThrust / s.thrustToWeight / 9.80665,
    air: { density: s.density, speedOfSound: 340 },
    rotors,
    pack: {
      cellsInSeries: s.cells,
      chemistry: s.chemistry,
      positionResistance: ((1 - s.leadShare) * resistance) / s.cells,
      leadResistance: s.leadShare * resistance,
      capacity: ((hoverPower / full) * s.minutes * 60) / 0.8,
      restingOffset: s.restingOffset,
      chargeOffset: s.chargeOffset,
      resistanceGrowthShare: s.resistanceGrowthShare,
      reserve: s.reserve,
    },
    rails,
    loads,
    escStandbyCurrent: 0.01 + 0.002 * fullCurrent,
    dutyLimit: s.dutyLimit,
    burstMultiple: s.burstMultiple,
    flown: [
      { share: 0.8, hoverMultiple: 1.05 },
      { share: 0.2, hoverMultiple: 1.7 },
    ],
    groundTime: s.groundTime,
    partDutyPowerFactor: s.partDutyPowerFactor,
  };
});

export const stateOfCharge = between(0.05, 1);
