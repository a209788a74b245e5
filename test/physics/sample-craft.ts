/** Invented craft for tests of the physics room. */
import {
  type Craft,
  type Impossible,
  isImpossible,
  type Motor,
  type RotorGroup,
} from '../../packages/language/src/physics/craft.ts';
import { commutationSlope } from '../../packages/language/src/physics/motor.ts';

const RPM = (2 * Math.PI) / 60;

/** A motor from stator size (mm) and kv (rpm/V), by the usual scaling. */
export function sampleMotor(kv: number, diameter: number, height: number): Motor {
  const speedConstant = kv * RPM;
  const resistance = 1.25 / (speedConstant ** 2 * 3.1e-10 * diameter ** 3.43 * height ** 1.9);
  const inductance = 2300 / (speedConstant ** 2 * diameter ** 2 * height);
  const polePairs = diameter <= 14 ? 6 : 7;
  return {
    speedConstant,
    resistance,
    commutationSlope: commutationSlope(polePairs, inductance),
    commutationLossShare: 0.55,
    inductance,
    noLoadCurrent: 0.5,
    noLoadSpeed: speedConstant * 7.4,
  };
}

/** A ducted 2S craft of about 150 g that looks for bats under barn roofs. */
export function ductedCraft(changes: Partial<Craft> = {}): Craft {
  return {
    mass: 0.15,
    air: { density: 1.2, speedOfSound: 342 },
    rotors: [ductedRotors],
    pack: {
      cellsInSeries: 2,
      chemistry: 'lipo',
      positionResistance: 0.011,
      leadResistance: 0.012,
      capacity: 0.55 * 3600 * 0.95,
      restingOffset: 0,
      chargeOffset: 0,
      resistanceGrowthShare: 1,
      reserve: 0.2,
    },
    rails: [
      { from: 'bus', type: 'buck', output: 5, dropout: 0.4, efficiency: 0.88, standbyCurrent: 0.004 },
      { from: 0, type: 'linear', output: 3.3, dropout: 0.2, efficiency: 1, standbyCurrent: 0.002 },
    ],
    loads: [
      { from: 'bus', kind: 'power', draw: 4, peak: 6 },
      { from: 0, kind: 'power', draw: 0.6, peak: 0.8 },
      { from: 1, kind: 'current', draw: 0.08, peak: 0.1 },
    ],
    escStandbyCurrent: 0.06,
    dutyLimit: 1,
    burstMultiple: 2.5,
    flown: [
      { share: 0.9, hoverMultiple: 1.05 },
      { share: 0.1, hoverMultiple: 1.8 },
    ],
    groundTime: 30,
    partDutyPowerFactor: 1,
    ...changes,
  };
}

export const ductedRotors: RotorGroup = {
  count: 4,
  motor: sampleMotor(8000, 11, 4),
  propeller: { diameter: 0.051, thrustCoefficient: 0.18, powerCoefficient: 0.15 },
  esc: { resistance: 0.012, pwmFrequency: 48000 },
  thrustGain: 1.03,
  coaxialFactor: 1,
};

/** A long-range craft of 2.4 kg with coaxial pairs on li-ion cells, front and rear rotors unlike. */
export function coaxialCraft(changes: Partial<Craft> = {}): Craft {
  return ductedCraft({
    mass: 2.4,
    rotors: [
      {
        count: 4,
        motor: sampleMotor(420, 28, 8),
        propeller: { diameter: 0.254, thrustCoefficient: 0.11, powerCoefficient: 0.045 },
        esc: { resistance: 0.004, pwmFrequency: 24000 },
        thrustGain: 1,
        coaxialFactor: 0.87,
      },
      {
        count: 4,
        motor: sampleMotor(460, 28, 7),
        propeller: { diameter: 0.24, thrustCoefficient: 0.12, powerCoefficient: 0.05 },
        esc: { resistance: 0.004, pwmFrequency: 24000 },
        thrustGain: 1,
        coaxialFactor: 0.87,
      },
    ],
    pack: {
      cellsInSeries: 6,
      chemistry: 'liion',
      positionResistance: 0.008,
      leadResistance: 0.006,
      capacity: 10 * 3600,
      restingOffset: 0,
      chargeOffset: 0,
      resistanceGrowthShare: 1,
      reserve: 0.15,
    },
    ...changes,
  });
}

/** @throws where the point does not exist. */
export function possible<T extends object>(result: T | Impossible): T {
  if (isImpossible(result)) throw new Error(`impossible: ${result.impossible}, ${result.shortfall}`);
  return result;
}
