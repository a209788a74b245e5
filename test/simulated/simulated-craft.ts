/**
 * Craft that exist only here: what a builder's file states of one (data sheets), what it truly is, and what its owner measures. The truth is drawn
 * from what the page leaves open; how the truth behaves is computed by another model than the project's (`physics.ts`), its instruments are off.
 */

import { assess, templateOf } from '../../packages/language/src/analysis/assess.ts';
import type { Setup } from '../../packages/language/src/analysis/setup/setup.ts';
import { fill, withDeviations } from '../../packages/language/src/analysis/setup/template.ts';
import type { Build, PackOption } from '../../packages/language/src/model/build.ts';
import { judgedIn } from '../checks/findings-in.ts';
import { between, logBetween, normal, pick, randomNumbers } from '../seeded.ts';
import { csvOf, flown, plan, type Recorder } from './flown.ts';
import { atDuty, hovering, onStand, secondsTo, type TrueCraft, usedIn } from './physics.ts';

export interface Simulated {
  readonly seed: number;
  /** Parts, and the build with its brace left open. */
  readonly page: string;
  /** Named `First`, which is flown while measuring, and `Second`. */
  readonly truth: Readonly<Record<'First' | 'Second', Truth>>;
  readonly lines: Lines;
}

/** SI */
export interface Truth {
  readonly hover_time: number;
  readonly hover_power: number;
  readonly full_current: number;
  readonly thrust_to_weight: number;
  readonly land_by_hover_voltage: number;
  readonly all_up_weight: number;
}

/** Each as written in a file. */
interface Lines {
  readonly scale: string;
  readonly charger: readonly string[];
  readonly burst: readonly string[];
  readonly hover: readonly string[];
  /** `airborne` alone, for a count without a charger. */
  readonly counted: string;
  readonly resistance: string;
  /** A whole block. */
  readonly stand: (duties: readonly number[], withTorque?: boolean) => string;
  /** A flight as its recorder wrote it, CSV; of some craft none can be flown so. */
  readonly log: string | undefined;
  /** The same reading taken again by the same recorder. */
  readonly again: (index: number) => string;
}

export interface Making {
  /** How far the other model is from the project's: 1 as practice knows it. */
  readonly modelError?: number;
  /** Of the recorder's amperes, relative; drawn where absent. */
  readonly recorder?: number;
  /** Standard deviations that the propeller is off; drawn where absent. */
  readonly propeller?: number;
}

/** Undefined where chance made a craft that nobody would fly. */
export async function simulated(seed: number, making: Making = {}): Promise<Simulated | undefined> {
  const page = pageOf(seed);
  const read = await judgedIn({ 'a.fettle': `${page}}\n` }, ({ builds }) => builds[0]);
  const build = read['a.fettle'];
  const [first, second] = build?.packs ?? [];
  if (!build || !first || !second) throw new Error(`seed ${seed}: two packs are expected`);
  const drawn = draw(build, seed, making);
  const [one, other] = [first, second].map((option) => truthOf(drawn(option, 'usual')));
  if (!one || !other) return undefined;
  const flying = drawn(first, 'flight');
  const lines = measure(flying, one, seed, making);
  return lines && { seed, page, truth: { First: one, Second: other }, lines };
}

function pageOf(seed: number): string {
  const random = randomNumbers(1000 + seed);
  const diameter = logBetween(random, 60, 180);
  const mass = 95 * (diameter / 51) ** 2.2 * between(random, 0.8, 1.2);
  const cells = diameter < 80 ? 3 : diameter < 130 ? pick(random, [3, 4]) : pick(random, [4, 6]);
  const kv = (((0.4 * 340 * 60) / (Math.PI * diameter * 1e-3)) * 1.7) / (cells * 3.7);
  const ampere = 6.5 * (mass / 95) * (2 / cells);
  const motorMass = 0.14 * mass;
  const stator = Math.cbrt((motorMass - 0.5) / 8.8e-3 / 0.35);
  const capacity = (480 * (mass / 95) * 2) / cells;
  const n = (value: number, digits = 3) => String(Number(value.toPrecision(digits)));
  return `motor Stator { stator: ${n(stator)} x ${n(0.35 * stator)} mm  kv: ${n(kv)} rpm/V  mass: ${n(motorMass)} g }
propeller Blade { diameter: ${n(diameter)} mm  pitch: ${n(diameter * between(random, 0.5, 0.85))} mm  blades: ${pick(random, [2, 3])}  mass: ${n(0.006 * mass)} g }
esc Board { channels: 4  continuous: ${n(2 * ampere)} A  mass: ${n(0.06 * mass)} g }
airframe Frame { mass: ${n(0.25 * mass)} g }
load Camera { draw: ${n(Math.min(8, 1 + 0.02 * mass))} W  mass: ${n(0.05 * mass)} g }
pack First { cells: ${cells}S  capacity: ${n(capacity)} mAh  discharge: ${pick(random, [45, 75, 95])}C  mass: ${n(0.3 * mass)} g }
pack Second { cells: ${cells}S  capacity: ${n(1.4 * capacity)} mAh  discharge: ${pick(random, [45, 75])}C  mass: ${n(0.4 * mass)} g }
build Made {
  airframe: Frame
  motors: 4 x Stator with Blade
  esc: Board
  load: Camera
  pack: First
  pack: Second
`;
}

type Day = 'usual' | 'flight' | 'stand';

/** What the craft is on a day, with a pack. */
function draw(build: Build, seed: number, { modelError = 1, propeller }: Making) {
  const random = randomNumbers(2000 + seed);
  const z = new Map<string, number>();
  for (const option of build.packs)
    for (const { id } of assess(build, option).inputs) if (!z.has(id)) z.set(id, normal(random));
  // Packs of one sort are alike in what they resist beyond their claims.
  const alike = normal(random);
  for (const id of z.keys())
    if (id.endsWith('.cell_resistance')) z.set(id, (0.2 * alike + 0.12 * normal(random)) / Math.hypot(0.2, 0.12));
  if (propeller !== undefined) for (const id of z.keys()) if (id.endsWith('.power_coefficient')) z.set(id, propeller);
  const off = (spread: number) => modelError * spread * normal(random);
  const own = {
    thrust: [0.05 + off(0.05), off(0.02)],
    power: [-0.05 + off(0.05), off(0.025)],
    commutation: Math.exp(off(0.1)),
    lossShare: 1 / (1 + Math.exp(-0.2 - off(0.6))),
    saturation: off(0.25),
    offset: off(0.015),
    tilt: off(0.015),
    growth: Math.max(0.1, 0.8 + off(0.3)),
  } as const;
  const { inputs } = assess(build, build.packs[0] as PackOption);
  const { value: usual = 1, standardUncertainty: sd = 0 } = inputs.find(({ id }) => id === 'model.part_duty') ?? {};
  const partDutyLoss = Math.max(-0.1, usual - 1 + modelError * sd * normal(random));
  const ofDays = new Map<Day, ReadonlyMap<string, number>>();
  const dayOf = (day: Day) => {
    const known = ofDays.get(day) ?? new Map([...z].map(([id, far]) => [id, isOfTheDay(id) ? normal(random) : far]));
    ofDays.set(day, known);
    return day === 'usual' ? z : known;
  };
  dayOf('flight');
  dayOf('stand');
  return (option: PackOption, day: Day): TrueCraft => {
    const { template } = templateOf(build, option);
    const { craft } = fill<Setup>(template, withDeviations(dayOf(day))).filled;
    const [rotor] = craft?.rotors ?? [];
    if (!craft || !rotor) throw new Error('a whole craft is expected');
    const { motor, propeller: blade, esc } = rotor;
    const { pack } = craft;
    const label = option.part.figure('capacity');
    return {
      mass: craft.mass,
      density: craft.air.density,
      dutyLimit: craft.dutyLimit,
      draw:
        craft.loads.reduce((sum, { draw: watts }) => sum + watts, 0) +
        craft.escStandbyCurrent * pack.cellsInSeries * 3.8,
      peak:
        craft.loads.reduce((sum, { peak: watts }) => sum + watts, 0) +
        craft.escStandbyCurrent * pack.cellsInSeries * 3.8,
      pack: {
        cells: pack.cellsInSeries,
        resistance: pack.positionResistance,
        leads: pack.leadResistance,
        capacity: pack.capacity,
        label: label ? withDeviations(z)(label) : pack.capacity,
        highVoltage: pack.chemistry === 'lihv',
        offset: own.offset,
        tilt: own.tilt,
        growth: own.growth,
        reserve: pack.reserve,
      },
      drive: {
        count: rotor.count,
        gain: rotor.thrustGain,
        escResistance: esc.resistance,
        pwmFrequency: esc.pwmFrequency,
        partDutyLoss,
        motor: {
          speedConstant: motor.speedConstant,
          resistance: motor.resistance,
          commutation: motor.commutationSlope * own.commutation,
          lossShare: own.lossShare,
          saturation: own.saturation,
          inductance: motor.inductance,
          noLoadCurrent: motor.noLoadCurrent,
          noLoadSpeed: motor.noLoadSpeed,
        },
        propeller: {
          diameter: blade.diameter,
          thrustCoefficient: blade.thrustCoefficient,
          powerCoefficient: blade.powerCoefficient,
          // Tips at 105 m/s.
          speed: 105 / (blade.diameter / 2),
          thrust: own.thrust,
          power: own.power,
        },
      },
    };
  };
}

/** Air, and how warm pack and windings are. */
const isOfTheDay = (id: string): boolean =>
  id.startsWith('default.air') ||
  id.startsWith('default.altitude') ||
  id.endsWith('.temperature') ||
  id === 'model.winding_temperature';

function truthOf(craft: TrueCraft): Truth | undefined {
  const middle = hovering(craft, (1 + craft.pack.reserve) / 2);
  const last = hovering(craft, craft.pack.reserve);
  const full = atDuty(craft, 1, craft.dutyLimit);
  const seconds = secondsTo(craft, craft.pack.reserve);
  if (!middle || !last || !full || seconds === undefined) return undefined;
  const thrust_to_weight = full.thrust / (craft.mass * 9.80665);
  const { thrustCoefficient, powerCoefficient } = craft.drive.propeller;
  const merit = (Math.sqrt(2 / Math.PI) * thrustCoefficient ** 1.5) / powerCoefficient;
  // No air moves so, nobody would fly it, or build it.
  if (merit > 0.85) return undefined;
  if (thrust_to_weight < 1.4 || full.volts < 0.55 * craft.pack.cells * 4.2 || middle.duty > 0.75) return undefined;
  return {
    hover_time: seconds,
    hover_power: middle.amperes * middle.volts,
    full_current: full.amperes,
    thrust_to_weight,
    land_by_hover_voltage: last.volts / craft.pack.cells,
    all_up_weight: craft.mass,
  };
}

function measure(craft: TrueCraft, truth: Truth, seed: number, { recorder }: Making): Lines | undefined {
  const random = randomNumbers(3000 + seed);
  const noise = (spread: number) => Math.exp(spread * normal(random));
  const amperes = 1 + (recorder ?? 0.05 * normal(random));
  const volts = noise(0.005);
  const charger = noise(0.015);
  const airborne = Math.round(0.8 * truth.hover_time);
  const used = usedIn(craft, airborne);
  const readAt = 1 - 0.4 * (1 - craft.pack.reserve);
  const hover = hovering(craft, readAt);
  const burst = atDuty(craft, 1, craft.dutyLimit, 0.95);
  if (!hover || !burst) return undefined;
  const n = (value: number) => String(Number(value.toPrecision(5)));
  const mAh = (coulomb: number) => `${n(coulomb / 3.6)} mAh`;
  // Two flights of one craft differ, whoever counts.
  const flown = used * noise(0.041);
  const hoverAt = (index: number) => {
    const again = randomNumbers(4000 + 100 * seed + index);
    return `hover_current: ${n(hover.amperes * amperes * Math.exp(0.027 * normal(again)))} A at ${n(100 * readAt)} %`;
  };
  return {
    scale: `scale: ${n(craft.mass * noise(0.0025) * 1e3)} g`,
    charger: [`airborne: ${airborne} s`, `put_back: ${mAh(flown * charger)}`],
    counted: `counted: ${mAh(flown * amperes * noise(0.022))}`,
    resistance: `cell_resistance: ${n(craft.pack.resistance * 1e3 * noise(0.05))} mohm at 20 degC`,
    hover: [
      hoverAt(0),
      `hover_voltage: ${n(hover.volts * volts * noise(0.006))} V at ${n(100 * readAt)} %`,
      `hover_output: ${n(100 * (hover.duty + 0.02 * normal(random)))} % at ${n(100 * readAt)} %`,
    ],
    burst: [
      `burst_current: ${n(burst.amperes * amperes * noise(0.032))} A`,
      `burst_voltage: ${n(burst.volts * volts * noise(0.011))} V`,
    ],
    log: logOf(craft, truth, { amperes, volts, zero: 0.005 * hover.amperes * normal(random), step: 0.5 }, seed),
    again: hoverAt,
    stand: (duties, withTorque = false) => standOf(craft, seed, duties, withTorque),
  };
}

function logOf(craft: TrueCraft, { hover_time }: Truth, recorder: Recorder, seed: number): string | undefined {
  const flight = flown(craft, plan(0.6 * hover_time), recorder, seed);
  return flight && csvOf(flight);
}

function standOf(craft: TrueCraft, seed: number, duties: readonly number[], withTorque: boolean): string {
  const random = randomNumbers(5000 + seed);
  const noise = (spread: number) => Math.exp(spread * normal(random));
  const [amperes, specimen] = [noise(0.02), noise(0.018)];
  const density = 1.19 * noise(0.015);
  const supply = Math.round(craft.pack.cells * 3.85 * 10) / 10;
  const n = (value: number) => String(Number(value.toPrecision(5)));
  const rows = duties.map((duty) => {
    const row = onStand({ ...craft.drive, gain: 1 }, density, supply, duty);
    return [
      n(100 * duty),
      n(supply),
      n(row.amperes * amperes * noise(0.012)),
      n(((row.thrust * specimen * noise(0.012)) / 9.80665) * 1e3),
      n(((row.speed * noise(0.008)) / (2 * Math.PI)) * 60),
      ...(withTorque ? [n(row.torque * noise(0.02) * 1e3)] : []),
    ].join(', ');
  });
  return `bench Stand {
  motor: Stator
  propeller: Blade
  esc: Board
  rows duty in %, voltage in V, current in A, thrust in gf, speed in rpm${withTorque ? ', torque in mN*m' : ''} {
    ${rows.join('\n    ')}
  }
}
`;
}
