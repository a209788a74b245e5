/**
 * What is read off a solved setup, one line a quantity: the results under their public names, and under names of their own
 * what checks hold against the limits of rotors, loads, rails and pack. Numbers in SI; undefined where a point does not exist.
 */
import type { RailUse } from '../../model/build.ts';
import { STANDARD_GRAVITY } from '../../physics/air.ts';
import { frontShare, packPosition } from '../../physics/balance.ts';
import { packRestingVoltage } from '../../physics/chemistry.ts';
import {
  type Craft,
  type Impossible,
  isImpossible,
  type OperatingPoint,
  type RotorState,
  type Source,
} from '../../physics/craft.ts';
import type { Endurance } from '../../physics/discharge.ts';
import { discArea, tipSpeed } from '../../physics/propeller.ts';
import { supplyVoltage } from '../../physics/rails.ts';
import { oncePerRevolution, transmissibility } from '../../physics/vibration.ts';
import { type WindCase, windHeld } from '../../physics/wind.ts';
import type { BrownOut } from '../evaluate/brown-out.ts';
import type { CraftEvaluation, Evaluation, Point } from '../evaluate/evaluation.ts';

/** What has to exist for a measure to have a value; the reason it has none follows from this. */
export type Need =
  | 'dryMass'
  | 'packMass'
  | 'speedConstant'
  | 'pack'
  | 'full'
  | 'fullAtReserve'
  | 'rest'
  | 'escBurst'
  | 'hover'
  | 'hoverAtReserve'
  | 'burst'
  | 'burstAtReserve'
  | 'hoverTime'
  | 'flightTime'
  | 'hoverAtLandBy'
  | 'wind'
  | 'heat'
  | 'mount'
  | 'balance'
  | 'frontRotors';

export interface Measure {
  readonly name: string;
  readonly needs: readonly Need[];
  readonly of: (evaluation: Evaluation) => number | undefined;
}

const G = STANDARD_GRAVITY;

/** A point of a whole craft, with what belongs to it. */
interface At {
  readonly point: OperatingPoint;
  readonly craft: Craft;
  readonly evaluation: Evaluation;
  /** The same point of the evaluation that this one is near. */
  readonly near?: At;
}

interface AtFull extends At {
  /** Currents, powers: as the factor on full duty; thrust follows power to ⅔ and speed to ⅓, sag follows current. */
  readonly factor: number;
  readonly busVoltage: number;
  readonly cellVoltage: number;
}

const weightOf = (evaluation: Evaluation): number | undefined => {
  const { dryMass, packMass } = evaluation.setup;
  return dryMass === undefined || packMass === undefined ? undefined : (dryMass + packMass) * G;
};

const possible = <T extends object>(value: T | Impossible | undefined): T | undefined =>
  value === undefined || isImpossible(value) ? undefined : value;

/** A quantity read from one point of the flight. */
const inFlight =
  (
    which: 'hover' | 'hoverAtReserve' | 'burst' | 'burstAtReserve' | 'hoverAtLandBy',
    of: (at: At) => number | undefined,
  ) =>
  (evaluation: Evaluation): number | undefined => {
    const at = atPoint(evaluation, ({ flight }) => flight?.[which]);
    return at && of(at);
  };

function atPoint(evaluation: Evaluation, which: (craft: CraftEvaluation) => Point | undefined): At | undefined {
  const { craft } = evaluation;
  const point = craft && possible<OperatingPoint>(which(craft));
  if (!craft || !point) return undefined;
  const near = evaluation.near && atPoint(evaluation.near, which);
  return { point, craft: craft.craft, evaluation, ...(near && { near }) };
}

/** The same where a burst that is full duty carries full duty's factor. */
const inBurst =
  (which: 'burst' | 'burstAtReserve', of: (at: AtFull) => number) =>
  (evaluation: Evaluation): number | undefined => {
    const { craft } = evaluation;
    const point = possible<OperatingPoint>(craft?.flight?.[which]);
    if (!point || !craft) return undefined;
    const charge = which === 'burst' ? 1 : craft.craft.pack.reserve;
    const factor = point.atDutyLimit ? evaluation.setup.fullDutyFactor : 1;
    return of(withFactor(evaluation, craft, point, charge, factor));
  };

const atFull =
  <T>(which: 'full' | 'fullAtReserve', of: (at: AtFull) => T | undefined) =>
  (evaluation: Evaluation): T | undefined => {
    const { craft } = evaluation;
    const point = possible<OperatingPoint>(craft?.[which]);
    if (!point || !craft) return undefined;
    const charge = which === 'full' ? 1 : craft.craft.pack.reserve;
    const near = evaluation.near && atPoint(evaluation.near, (other) => other[which]);
    return of({
      ...withFactor(evaluation, craft, point, charge, evaluation.setup.fullDutyFactor),
      ...(near && { near }),
    });
  };

function withFactor(
  evaluation: Evaluation,
  { craft }: CraftEvaluation,
  point: OperatingPoint,
  charge: number,
  factor: number,
): AtFull {
  const { pack } = craft;
  const { busVoltage, cellVoltage } = point;
  if (factor === 1) return { evaluation, craft, point, factor, busVoltage, cellVoltage };
  const resting = packRestingVoltage(pack, charge);
  const restingCell = resting / pack.cellsInSeries;
  return {
    evaluation,
    craft,
    point,
    factor,
    busVoltage: resting - (resting - busVoltage) * factor,
    cellVoltage: restingCell - (restingCell - cellVoltage) * factor,
  };
}

const thrustFactorOf = (at: AtFull): number => at.factor ** (2 / 3);
const speedFactorOf = (at: AtFull): number => at.factor ** (1 / 3);

/** Of the rotor line that has most of something: mixed craft are judged by their hardest worked motor. */
function most(at: At, of: (rotor: RotorState, line: number, at: At) => number): number {
  const ofLines = ({ point }: At, from: At): number[] => point.rotors.map((rotor, line) => of(rotor, line, from));
  const decisive = at.near ?? at;
  const line = hardest(ofLines(decisive, decisive), decisive.craft);
  const rotor = at.point.rotors[line];
  return rotor ? of(rotor, line, at) : 0;
}

/**
 * The line with the greatest value. Motors that differ may tie, such as in stall with equal resistances: then the fastest wound
 * counts, so that the order of the lines decides nothing.
 */
function hardest(values: readonly number[], { rotors }: Craft): number {
  const greatest = Math.max(...values);
  return indexOfGreatest(
    values.map((value, line) =>
      value >= greatest * (1 - TIE) ? (rotors[line]?.motor.speedConstant ?? 0) : Number.NEGATIVE_INFINITY,
    ),
  );
}

/** Relative: what solvers leave between equal rotors. */
const TIE = 1e-9;

/** The first of several; -1 of none. */
const indexOfGreatest = (values: readonly number[]): number =>
  values.reduce((best, value, i) => (best < 0 || value > (values[best] as number) ? i : best), -1);

const diameterOf = (craft: Craft, line: number): number => craft.rotors[line]?.propeller.diameter ?? 0;

const ofFlight =
  (which: 'hoverTime' | 'flightTime', of: (endurance: Endurance) => number) =>
  (evaluation: Evaluation): number | undefined => {
    const endurance = possible<Endurance>(evaluation.craft?.flight?.[which]);
    return endurance && of(endurance);
  };

const thrustToWeight = ({ point, evaluation }: AtFull, factor: number): number | undefined => {
  const weight = weightOf(evaluation);
  return weight === undefined ? undefined : (point.thrust * factor) / weight;
};

/** Area swept by the rotors seen from above, m²; a coaxial pair counts once. */
function sweptArea(craft: Craft, overlapping: readonly boolean[]): number {
  return craft.rotors.reduce(
    (area, group, i) => (overlapping[i] ? area : area + group.count * discArea(group.propeller.diameter)),
    0,
  );
}

/** Winding current of a rotor that is held still at hover's duty, A: only resistance is left to limit it. */
function stallCurrent(here: At): number {
  return most(here, ({ duty }, line, { point, craft }) => {
    const group = craft.rotors[line];
    return group ? (duty * point.busVoltage) / (group.motor.resistance + group.esc.resistance) : 0;
  });
}

/**
 * All named results but those of rails.
 * @param overlapping per rotor line: a lower rotor, in the shadow of another
 */
export function headlineMeasures(overlapping: readonly boolean[]): Measure[] {
  const setupOf =
    (of: (setup: Evaluation['setup']) => number | undefined) =>
    ({ setup }: Evaluation) =>
      of(setup);
  return [
    { name: 'dry_mass', needs: ['dryMass'], of: setupOf(({ dryMass }) => dryMass) },
    {
      name: 'all_up_weight',
      needs: ['dryMass', 'packMass'],
      of: (evaluation) => {
        const weight = weightOf(evaluation);
        return weight && weight / G;
      },
    },
    {
      name: 'pack_mass_fraction',
      needs: ['dryMass', 'packMass'],
      of: setupOf(({ dryMass, packMass }) =>
        dryMass === undefined || packMass === undefined ? undefined : packMass / (dryMass + packMass),
      ),
    },
    {
      name: 'effective_kv',
      needs: ['speedConstant'],
      of: (evaluation) => {
        const fastest = fastestConstant(evaluation);
        return fastest && fastest * evaluation.setup.dutyLimit;
      },
    },
    {
      name: 'no_load_speed',
      needs: ['speedConstant', 'pack'],
      of: (evaluation) => {
        const { fullVoltage, dutyLimit } = evaluation.setup;
        const fastest = fastestConstant(evaluation);
        return fullVoltage && fastest ? fastest * dutyLimit * fullVoltage : undefined;
      },
    },

    { name: 'hover_speed', needs: ['hover'], of: inFlight('hover', (at) => most(at, ({ speed }) => speed)) },
    { name: 'hover_duty', needs: ['hover'], of: inFlight('hover', (at) => most(at, ({ duty }) => duty)) },
    { name: 'hover_current', needs: ['hover'], of: inFlight('hover', ({ point }) => point.packCurrent) },
    {
      name: 'hover_power',
      needs: ['hover'],
      of: inFlight('hover', ({ point }) => point.packCurrent * point.busVoltage),
    },
    {
      name: 'hover_efficiency',
      needs: ['hover'],
      of: inFlight('hover', ({ point }) => point.thrust / (point.packCurrent * point.busVoltage)),
    },
    { name: 'hover_time', needs: ['hoverTime'], of: ofFlight('hoverTime', ({ time }) => time) },
    { name: 'flight_time', needs: ['flightTime'], of: ofFlight('flightTime', ({ time }) => time) },
    { name: 'charge_used', needs: ['flightTime'], of: ofFlight('flightTime', ({ chargeUsed }) => chargeUsed) },
    {
      name: 'disc_loading',
      needs: ['hover'],
      of: inFlight('hover', ({ craft }) => craft.mass / sweptArea(craft, overlapping)),
    },

    { name: 'full_voltage', needs: ['full'], of: atFull('full', ({ busVoltage }) => busVoltage) },
    { name: 'full_cell_voltage', needs: ['full'], of: atFull('full', ({ cellVoltage }) => cellVoltage) },
    { name: 'full_current', needs: ['full'], of: atFull('full', ({ point, factor }) => point.packCurrent * factor) },
    {
      name: 'full_motor_current',
      needs: ['full'],
      of: atFull('full', (at) => at.factor * most(at, ({ motorCurrent }) => motorCurrent)),
    },
    {
      name: 'full_motor_power',
      needs: ['full'],
      of: atFull('full', (at) => at.factor * most(at, motorPower)),
    },
    {
      name: 'full_power',
      needs: ['full'],
      of: atFull('full', ({ point, factor, busVoltage }) => point.packCurrent * factor * busVoltage),
    },
    { name: 'full_thrust', needs: ['full'], of: atFull('full', (at) => at.point.thrust * thrustFactorOf(at)) },
    {
      name: 'full_speed',
      needs: ['full'],
      of: atFull('full', (at) => speedFactorOf(at) * most(at, ({ speed }) => speed)),
    },
    { name: 'tip_speed', needs: ['full'], of: atFull('full', fastestTip) },
    { name: 'tip_mach', needs: ['full'], of: atFull('full', (at) => fastestTip(at) / at.craft.air.speedOfSound) },
    {
      name: 'thrust_to_weight',
      needs: ['dryMass', 'packMass', 'full'],
      of: atFull('full', (at) => thrustToWeight(at, thrustFactorOf(at))),
    },
    {
      name: 'reserve_cell_voltage',
      needs: ['fullAtReserve'],
      of: atFull('fullAtReserve', ({ cellVoltage }) => cellVoltage),
    },
    {
      name: 'reserve_thrust_to_weight',
      needs: ['dryMass', 'packMass', 'fullAtReserve'],
      of: atFull('fullAtReserve', (at) => thrustToWeight(at, thrustFactorOf(at))),
    },
    {
      name: 'reserve_hover_duty',
      needs: ['hoverAtReserve'],
      of: inFlight('hoverAtReserve', (at) => most(at, ({ duty }) => duty)),
    },
    {
      name: 'burst_current',
      needs: ['burst'],
      of: inBurst('burst', ({ point, factor }) => point.packCurrent * factor),
    },
    { name: 'burst_cell_voltage', needs: ['burst'], of: inBurst('burst', ({ cellVoltage }) => cellVoltage) },
    { name: 'stall_current', needs: ['hover'], of: inFlight('hover', stallCurrent) },
    {
      name: 'stall_ratio',
      needs: ['hover', 'escBurst'],
      of: (evaluation) => {
        const current = inFlight('hover', stallCurrent)(evaluation);
        const { escBurst } = evaluation.setup;
        return current === undefined || !escBurst ? undefined : current / escBurst;
      },
    },
    {
      name: 'land_by_hover_voltage',
      needs: ['hoverAtLandBy'],
      of: inFlight('hoverAtLandBy', ({ point, craft }) => point.busVoltage / craft.pack.cellsInSeries),
    },
    {
      name: 'land_by_resting_voltage',
      needs: ['hoverAtLandBy'],
      of: ({ craft }) => craft?.flight && restingCell(craft.craft, craft.flight.landBy),
    },

    {
      name: 'wind_held',
      needs: ['dryMass', 'packMass', 'fullAtReserve', 'wind'],
      of: (evaluation) => {
        const windCase = windCaseOf(evaluation, overlapping);
        return windCase && windHeld(windCase)?.speed;
      },
    },
    { name: 'motor_temperature', needs: ['hover', 'heat'], of: hottestWinding },
    { name: 'mount_frequency', needs: ['mount'], of: setupOf(({ mount }) => mount?.frequency) },
    {
      name: 'mount_transmissibility',
      needs: ['hover', 'mount'],
      of: inFlight('hover', (at) => {
        const { mount } = at.evaluation.setup;
        if (!mount) return undefined;
        const shaking = oncePerRevolution(most(at, ({ speed }) => speed));
        return transmissibility(shaking / mount.frequency, mount.damping);
      }),
    },
    {
      name: 'balance_offset',
      needs: ['dryMass', 'packMass', 'balance'],
      of: setupOf(centreOfMass),
    },
    {
      name: 'front_thrust_share',
      needs: ['dryMass', 'packMass', 'balance', 'frontRotors'],
      of: setupOf((setup) => {
        const centre = centreOfMass(setup);
        const front = setup.balance?.frontRotors;
        return centre === undefined || !front ? undefined : frontShare(centre, front, -front);
      }),
    },
    {
      name: 'pack_balance_position',
      needs: ['packMass', 'balance'],
      of: setupOf(({ packMass, balance }) => packMass && balance && packPosition(balance.othersMoment, packMass)),
    },
  ];
}

/** Of the motor that turns fastest for its volts. */
function fastestConstant({ setup, near }: Evaluation): number | undefined {
  const decisive = (near?.setup ?? setup).speedConstants;
  return setup.speedConstants[indexOfGreatest(decisive.map((constant) => constant ?? 0))];
}

/** Ahead of the rotors' middle, m. */
function centreOfMass({ dryMass, packMass, balance }: Evaluation['setup']): number | undefined {
  if (dryMass === undefined || packMass === undefined || !balance) return undefined;
  return (balance.othersMoment + packMass * balance.packPosition) / (dryMass + packMass);
}

/** With what the rotors still give at the reserve. */
export function windCaseOf(evaluation: Evaluation, overlapping: readonly boolean[]): WindCase | undefined {
  const { wind } = evaluation.setup;
  const weight = weightOf(evaluation);
  if (!wind || weight === undefined) return undefined;
  return atFull(
    'fullAtReserve',
    (at): WindCase => ({
      ...wind,
      mass: weight / G,
      airDensity: at.craft.air.density,
      discArea: sweptArea(at.craft, overlapping),
      availableThrust: at.point.thrust * thrustFactorOf(at),
    }),
  )(evaluation);
}

/** Of the motors that state how they shed heat; undefined when one runs away. */
function hottestWinding(evaluation: Evaluation): number | undefined {
  const lines = evaluation.setup.heat.flatMap((path, line) => (path ? [line] : []));
  const settledIn = (one: Evaluation) => lines.map((line) => settledWinding(line)(one));
  const settled = settledIn(evaluation);
  if (settled.some((temperature) => temperature === undefined)) return undefined;
  return settled[indexOfGreatest(settledIn(evaluation.near ?? evaluation).map((temperature) => temperature ?? 0))];
}

/** Of one rotor line's motor, K; the flight as flown, long enough to settle. Undefined without a thermal resistance, and when it runs away. */
const settledWinding =
  (line: number) =>
  ({ craft }: Evaluation): number | undefined => {
    const temperature = craft?.windings[line];
    return temperature === 'runaway' ? undefined : temperature;
  };

const motorPower = ({ motorVoltage, motorCurrent }: RotorState): number => motorVoltage * motorCurrent;

const fastestTip = (at: AtFull): number =>
  speedFactorOf(at) * most(at, ({ speed }, line, { craft }) => tipSpeed(diameterOf(craft, line), speed));

const restingCell = (craft: Craft, charge: number): number =>
  packRestingVoltage(craft.pack, charge) / craft.pack.cellsInSeries;

/** Of one rotor line. */
export function rotorMeasures(line: number): Measure[] {
  const rotor = (point: OperatingPoint): RotorState => point.rotors[line] as RotorState;
  return [
    {
      name: `rotor.${line}.full_current`,
      needs: ['full'],
      of: atFull('full', ({ point, factor }) => rotor(point).motorCurrent * factor),
    },
    {
      name: `rotor.${line}.full_power`,
      needs: ['full'],
      of: atFull('full', ({ point, factor }) => motorPower(rotor(point)) * factor),
    },
    {
      name: `rotor.${line}.full_speed`,
      needs: ['full'],
      of: atFull('full', (at) => rotor(at.point).speed * speedFactorOf(at)),
    },
    {
      name: `rotor.${line}.mix_current`,
      needs: ['hover'],
      of: overFlight((points) =>
        Math.sqrt(points.reduce((sum, { share, point }) => sum + share * rotor(point).motorCurrent ** 2, 0)),
      ),
    },
    {
      name: `rotor.${line}.ripple_share`,
      needs: ['hover'],
      of: inFlight('hover', ({ point }) => rotor(point).rippleLoss / (rotor(point).busCurrent * point.busVoltage)),
    },
    { name: `rotor.${line}.winding_temperature`, needs: ['hover', 'heat'], of: settledWinding(line) },
  ];
}

interface FlownPhase {
  readonly share: number;
  readonly point: OperatingPoint;
}

/** Over the phases of the flight as flown, at the middle charge. */
const overFlight =
  <T>(of: (phases: readonly FlownPhase[], craft: Craft) => T | undefined) =>
  ({ craft }: Evaluation): T | undefined => {
    if (!craft?.flight || isImpossible(craft.flight.hover)) return undefined;
    const phases: FlownPhase[] = [];
    for (const [i, { share }] of craft.craft.flown.entries()) {
      const point = possible<OperatingPoint>(craft.flight.phases[i]);
      if (!point) return undefined;
      phases.push({ share, point });
    }
    return of(phases, craft.craft);
  };

/** A quantity read from the full pack at rest. */
const atRest =
  (of: (point: OperatingPoint, craft: Craft) => number) =>
  ({ craft }: Evaluation): number | undefined => {
    const point = possible<OperatingPoint>(craft?.rest);
    return craft && point && of(point, craft.craft);
  };

/** Of one rail: under its public names, and what its limits are held against. */
export function railMeasures(rail: number, { name, part }: RailUse): Measure[] {
  const input = (craft: Craft, busVoltage: number): number =>
    supplyVoltage(craft.rails, craft.rails[rail]?.from ?? 'bus', busVoltage);
  const least: Measure[] = [
    {
      name: `rail.${name}.hover_input_voltage`,
      needs: ['hoverAtReserve'],
      of: inFlight('hoverAtReserve', ({ point, craft }) => input(craft, point.busVoltage)),
    },
    {
      name: `rail.${name}.burst_input_voltage`,
      needs: ['burstAtReserve'],
      of: inBurst('burstAtReserve', ({ craft, busVoltage }) => input(craft, busVoltage)),
    },
  ];
  return [
    // Not needed where the part does not state what it works from.
    ...(part.range('supply') ? least : []),
    {
      name: `rail.${name}.voltage`,
      needs: ['hoverAtReserve'],
      of: inFlight('hoverAtReserve', ({ point, craft }) => supplyVoltage(craft.rails, rail, point.busVoltage)),
    },
    {
      name: `rail.${name}.burst_voltage`,
      needs: ['burstAtReserve'],
      of: inBurst('burstAtReserve', ({ craft, busVoltage }) => supplyVoltage(craft.rails, rail, busVoltage)),
    },
    {
      name: `rail.${name}.current`,
      needs: ['hoverAtReserve'],
      of: inFlight('hoverAtReserve', ({ point }) => point.rails[rail]?.current ?? 0),
    },
    {
      name: `rail.${name}.peak_current`,
      needs: ['burstAtReserve'],
      of: inFlight('burstAtReserve', ({ point }) => point.rails[rail]?.current ?? 0),
    },
    {
      name: `rail.${name}.rest_input_voltage`,
      needs: ['rest'],
      of: atRest((point, craft) => input(craft, point.busVoltage)),
    },
  ];
}

/** Of one load: what it is fed with, and the charge below which that is too little. */
export function loadMeasures(load: number): Measure[] {
  const feed = (craft: Craft): Source => craft.loads[load]?.from ?? 'bus';
  const brownOut =
    (of: (brownOut: BrownOut, craft: Craft) => number | undefined) =>
    ({ craft }: Evaluation): number | undefined => {
      const found = craft?.flight?.brownOuts[load];
      return craft && found && of(found, craft.craft);
    };
  return [
    {
      name: `load.${load}.rest_voltage`,
      needs: ['rest'],
      of: atRest((point, craft) => supplyVoltage(craft.rails, feed(craft), point.busVoltage)),
    },
    {
      name: `load.${load}.hover_voltage`,
      needs: ['hoverAtReserve'],
      of: inFlight('hoverAtReserve', ({ point, craft }) => supplyVoltage(craft.rails, feed(craft), point.busVoltage)),
    },
    {
      name: `load.${load}.burst_voltage`,
      needs: ['burstAtReserve'],
      of: inBurst('burstAtReserve', ({ craft, busVoltage }) => supplyVoltage(craft.rails, feed(craft), busVoltage)),
    },
    {
      name: `load.${load}.full_voltage`,
      needs: ['fullAtReserve'],
      of: atFull('fullAtReserve', ({ craft, busVoltage }) => supplyVoltage(craft.rails, feed(craft), busVoltage)),
    },
    { name: `load.${load}.hover_brown_out`, needs: ['hover'], of: brownOut(({ inHover }) => inHover) },
    { name: `load.${load}.burst_brown_out`, needs: ['hover', 'burst'], of: brownOut(({ inBurst }) => inBurst) },
    {
      name: `load.${load}.land_by_hover_voltage`,
      needs: ['hover', 'burst'],
      of: brownOut(({ hoverAtBurst }, craft) => {
        const point = possible<OperatingPoint>(hoverAtBurst);
        return point && point.busVoltage / craft.pack.cellsInSeries;
      }),
    },
  ];
}

/** Of the pack as flown, and of its cells in a burst from full. */
export function packMeasures(): Measure[] {
  return [
    {
      name: 'pack.mix_current',
      needs: ['hover'],
      of: overFlight((phases) => phases.reduce((sum, { share, point }) => sum + share * point.packCurrent, 0)),
    },
    {
      name: 'pack.burst_cell_sag',
      needs: ['burst'],
      of: inBurst('burst', ({ craft, cellVoltage }) => restingCell(craft, 1) - cellVoltage),
    },
    {
      name: 'pack.reserve_hover_cell_voltage',
      needs: ['hoverAtReserve'],
      of: inFlight('hoverAtReserve', ({ point }) => point.cellVoltage),
    },
  ];
}
