/**
 * The results: what `require` may use, hovers show and JSON contains. Stable: a name once given stays.
 * Within the code a result of a rail or a flight is a record, `ResultKey`; its name is read and written in this file only.
 */
import {
  CHARGE,
  CURRENT,
  FORCE,
  FREQUENCY,
  LENGTH,
  MASS,
  money,
  NONE,
  POWER,
  ROTATIONAL_SPEED,
  SPEED,
  SPEED_PER_VOLT,
  SURFACE_DENSITY,
  TEMPERATURE_POINT,
  THRUST_PER_POWER,
  TIME,
  TIME_PER_MASS,
  VOLTAGE,
} from '../units/dimension.ts';
import { keysOf } from '../units/lookup-table.ts';
import type { Dimension } from '../units/quantity.ts';

interface Described {
  /** A few words, as a row's heading. */
  readonly label: string;
  /** In which the trade reads it; none for a plain number. */
  readonly unit: string;
  readonly dimension: Dimension;
  /** Which of two builds has the advantage, as far as this result goes: that of more, or that of less. */
  readonly better: 'more' | 'less';
  readonly description: string;
}

/** Of one result by its whole name, or of that of all rails or flights by the last step of it. */
export interface ResultSchema<Name extends string = ResultId> extends Described {
  readonly name: Name;
  /** The label within a sentence. */
  readonly words: string;
}

const oneBetterBy =
  (better: Described['better']) =>
  (label: string, unit: string, dimension: Dimension, description: string): Described => ({
    label,
    unit,
    dimension,
    better,
    description,
  });

const more = oneBetterBy('more');
const less = oneBetterBy('less');

const TABLE = {
  all_up_weight: less('all-up weight', 'g', MASS, 'Everything on the scale, pack in, ready to fly.'),
  dry_mass: less('dry mass', 'g', MASS, 'Everything but the pack.'),
  pack_mass_fraction: less('pack share of weight', '%', NONE, 'Mass of the pack over all-up weight.'),
  gram_cost_time: less('cost of a gram', 's/g', TIME_PER_MASS, 'Seconds of hover lost per gram added.'),

  no_load_speed: more(
    'no-load speed',
    'rpm',
    ROTATIONAL_SPEED,
    'Speed of the motor without a propeller, full pack, at the duty limit.',
  ),
  effective_kv: more(
    'effective kV',
    'rpm/V',
    SPEED_PER_VOLT,
    'kv times the duty limit: what the motor turns per volt of the pack at most.',
  ),

  hover_speed: less('hover speed', 'rpm', ROTATIONAL_SPEED, 'Speed of the rotors in hover, pack half used.'),
  hover_duty: less('hover duty', '%', NONE, 'Share of the pack voltage that the motors need to hover, pack half used.'),
  hover_current: less('hover current', 'A', CURRENT, 'Current from the pack in hover, all of it, pack half used.'),
  hover_power: less('hover power', 'W', POWER, 'Power from the pack in hover, all of it, pack half used.'),
  hover_efficiency: more(
    'hover efficiency',
    'gf/W',
    THRUST_PER_POWER,
    'Grams lifted per watt from the pack, in hover.',
  ),
  hover_time: more(
    'hover time',
    'min',
    TIME,
    'From a full pack to the reserve, or to where a load browns out, hovering all the time.',
  ),
  flight_time: more(
    'flight time',
    'min',
    TIME,
    'From a full pack to the reserve, flown as the rules state, time on the ground taken off.',
  ),
  charge_used: more('charge used', 'mAh', CHARGE, 'What is out of the pack when the reserve begins.'),

  full_voltage: more('full-duty voltage', 'V', VOLTAGE, 'At the speed controller, full duty on a fresh pack.'),
  full_cell_voltage: more('full-duty cell voltage', 'V', VOLTAGE, 'Of one cell at full duty on a fresh pack.'),
  full_current: less(
    'full-duty current',
    'A',
    CURRENT,
    'From the pack at full duty, all of it; a few seconds at most.',
  ),
  full_motor_current: less('full-duty motor current', 'A', CURRENT, 'Through the motor that draws most, at full duty.'),
  full_motor_power: less('full-duty motor power', 'W', POWER, 'Into the motor that draws most, at full duty.'),
  full_power: less('full-duty power', 'W', POWER, 'From the pack at full duty, all of it.'),
  full_thrust: more('full-duty thrust', 'gf', FORCE, 'Of all rotors together, full duty on a fresh pack.'),
  full_speed: less('full-duty speed', 'rpm', ROTATIONAL_SPEED, 'Of the fastest rotor, full duty on a fresh pack.'),
  tip_speed: less('tip speed', 'm/s', SPEED, 'Of the fastest blade tip at full duty.'),
  tip_mach: less(
    'tip Mach number',
    '',
    NONE,
    'Tip speed over the speed of sound; above 0.75 it gets loud and loses thrust.',
  ),
  thrust_to_weight: more('thrust-to-weight', '', NONE, 'Full-duty thrust over weight, fresh pack.'),

  reserve_cell_voltage: more(
    'cell voltage at the reserve',
    'V',
    VOLTAGE,
    'Of one cell at full duty when the reserve begins.',
  ),
  reserve_thrust_to_weight: more(
    'thrust-to-weight at the reserve',
    '',
    NONE,
    'Full-duty thrust over weight when the reserve begins.',
  ),
  reserve_hover_duty: less('hover duty at the reserve', '%', NONE, 'Duty needed to hover when the reserve begins.'),

  burst_current: less('burst current', 'A', CURRENT, 'From the pack in a burst as the rules define it, fresh pack.'),
  burst_cell_voltage: more('burst cell voltage', 'V', VOLTAGE, 'Of one cell in a burst, fresh pack.'),

  disc_loading: less(
    'disc loading',
    'kg/m^2',
    SURFACE_DENSITY,
    'Weight over the area the rotors sweep; less is quieter and flies longer.',
  ),

  stall_current: less('stall current', 'A', CURRENT, 'Through a jammed motor at hover duty: voltage over resistance.'),
  stall_ratio: less(
    'stall current over burst rating',
    '',
    NONE,
    'How many times its burst rating a channel sees when its propeller jams in hover.',
  ),

  land_by_hover_voltage: more(
    'land at, read in hover',
    'V',
    VOLTAGE,
    'Volts per cell, as read in hover, at which to be on the ground.',
  ),
  land_by_resting_voltage: more(
    'land at, resting',
    'V',
    VOLTAGE,
    'Volts per cell, motors off, at which to be on the ground.',
  ),

  wind_held: more('wind held', 'm/s', SPEED, 'The strongest steady wind in which it keeps its position.'),
  endurance_speed: more(
    'endurance speed',
    'm/s',
    SPEED,
    'Level speed at which it takes least power and stays up longest.',
  ),
  endurance: more('endurance', 'min', TIME, 'Time from full to the reserve at the endurance speed, in still air.'),
  range_speed: more('range speed', 'm/s', SPEED, 'Level speed at which it flies farthest, in still air.'),
  range: more(
    'range',
    'km',
    LENGTH,
    'Distance from full to the reserve at the range speed, in still air: out and back together.',
  ),
  motor_temperature: less(
    'motor temperature',
    'degC',
    TEMPERATURE_POINT,
    'Of the hottest winding as flown; only where a thermal resistance is known.',
  ),
  pack_grams_left: more(
    'pack grams left',
    'g',
    MASS,
    'How much heavier the pack may be before a requirement fails; below zero where one does.',
  ),
  balance_offset: less(
    'balance offset',
    'mm',
    LENGTH,
    'How far the centre of mass lies ahead of the middle of the rotors.',
  ),
  front_thrust_share: more(
    'thrust share of the front rotors',
    '%',
    NONE,
    'Of the hover thrust; half where it is balanced. The pair with the larger share works harder and wears sooner.',
  ),
  pack_balance_position: more(
    'pack position for balance',
    'mm',
    LENGTH,
    'How far ahead of the middle of the rotors the pack must sit for the centre of mass to lie there.',
  ),

  mount_frequency: more('mount frequency', 'Hz', FREQUENCY, 'At which the softest mount rings with its load.'),
  mount_transmissibility: less(
    'mount transmissibility',
    '',
    NONE,
    'How much of a once-per-revolution shake passes the mount in hover; 1 is all of it.',
  ),
  price: less(
    'price',
    'EUR',
    money('EUR'),
    'Of all parts, with the pack and the spares, in the currency that they state; none while a part states no price.',
  ),
} satisfies Readonly<Record<string, Described>>;

const RAIL_TABLE = {
  voltage: more('rail voltage', 'V', VOLTAGE, 'What the rail delivers in hover at the reserve.'),
  burst_voltage: more('rail voltage in a burst', 'V', VOLTAGE, 'What the rail delivers in a burst at the reserve.'),
  current: less('rail current', 'A', CURRENT, 'What flows out of the rail in hover at the reserve.'),
} satisfies Readonly<Record<string, Described>>;

const FLIGHT_TABLE = {
  time: less('flight', 'min', TIME, 'How long all its legs take, in the air.'),
  charge: less('charge of the flight', 'mAh', CHARGE, 'What its legs take from the pack, time on the ground included.'),
  charge_left: more(
    'charge left',
    '%',
    NONE,
    'Share of the charge that is left at its end; below zero where the pack is too small.',
  ),
  end_voltage: more('cell voltage at the end', 'V', VOLTAGE, 'Of one cell, in the air, when the last leg ends.'),
  turn_back_time: more(
    'turn back at',
    'min',
    TIME,
    'When to be on the way home at the latest, from take-off: flown as stated until then, the way home ends at the reserve.',
  ),
  turn_back_distance: more('turn back after', 'm', LENGTH, 'Distance from home at which that is.'),
  turn_back_voltage: less('turn back at, read in flight', 'V', VOLTAGE, 'Of one cell, in the air, when that is.'),
} satisfies Readonly<Record<string, Described>>;

/** All but those of rails and flights. How each is computed and explained is in `analysis/results`, one file per name. */
export type ResultName = keyof typeof TABLE;

/** What may follow `rail.<name>.`. */
export type RailResultName = keyof typeof RAIL_TABLE;

/** What may follow `flight.<name>.`. */
export type FlightResultName = keyof typeof FLIGHT_TABLE;

/** A result as `require` names it: a craft's, a rail's, a flight's. */
export type ResultId = ResultName | `rail.${string}.${RailResultName}` | `flight.${string}.${FlightResultName}`;

/** Which result, and of what. */
export type ResultKey =
  | { readonly of: 'craft'; readonly result: ResultName }
  /** `owner`: the rail as it is written, `[video]`, `[Top, video]` behind its board, `[CamPower]` of a regulator. */
  | { readonly of: 'rail'; readonly owner: readonly string[]; readonly result: RailResultName }
  | { readonly of: 'flight'; readonly owner: string; readonly result: FlightResultName };

const named = <Name extends string>(table: Readonly<Record<Name, Described>>): ResultSchema<Name>[] =>
  keysOf(table).map((name) => ({ name, words: table[name].label, ...table[name] }));

/** In the order in which a sheet lists them. */
export const RESULTS: readonly ResultSchema<ResultName>[] = named(TABLE);
/** Of any rail, of any flight. */
export const RAIL_RESULTS: readonly ResultSchema<RailResultName>[] = named(RAIL_TABLE);
export const FLIGHT_RESULTS: readonly ResultSchema<FlightResultName>[] = named(FLIGHT_TABLE);

export const RESULT_NAMES: readonly ResultName[] = RESULTS.map(({ name }) => name);

export function isResultName(name: string): name is ResultName {
  return Object.hasOwn(TABLE, name);
}

export const isRailResultName = (name: string): name is RailResultName => Object.hasOwn(RAIL_TABLE, name);

export const isFlightResultName = (name: string): name is FlightResultName => Object.hasOwn(FLIGHT_TABLE, name);

/**
 * The result that a person named: `hover_time`, `rail.video.voltage`, `flight.Round.charge`.
 * @param steps the name, cut at its dots
 */
export function readResult(steps: readonly string[]): ResultKey | undefined {
  const [first = '', ...owner] = steps;
  const result = owner.pop();
  if (result === undefined) return isResultName(first) ? { of: 'craft', result: first } : undefined;
  if (owner.length === 0 || owner.includes('')) return undefined;
  if (first === 'rail' && isRailResultName(result)) return { of: 'rail', owner, result };
  const [flight, more] = owner;
  const isFlight = first === 'flight' && flight !== undefined && more === undefined;
  return isFlight && isFlightResultName(result) ? { of: 'flight', owner: flight, result } : undefined;
}

/** Undefined where a person named what there is not. */
export function resultIdOf(name: string): ResultId | undefined {
  const key = resultNamed(name);
  return key && nameOfResult(key);
}

/** The same of the whole name. */
export const resultNamed = (name: string): ResultKey | undefined => readResult(name.split('.'));

/** As `require` names it. */
export function nameOfResult(key: ResultKey): ResultId {
  switch (key.of) {
    case 'craft':
      return key.result;
    case 'rail':
      return railResult(key.owner.join('.'), key.result);
    case 'flight':
      return flightResult(key.owner, key.result);
  }
}

/** @param rail as its build names it, `Top.video` */
export const railResult = (rail: string, result: RailResultName) => `rail.${rail}.${result}` as const;

export const flightResult = (flight: string, result: FlightResultName) => `flight.${flight}.${result}` as const;

/** Name, words and unit of a result. */
export function schemaOfResult(key: ResultKey): ResultSchema {
  const name = nameOfResult(key);
  switch (key.of) {
    case 'craft':
      return { name, words: TABLE[key.result].label, ...TABLE[key.result] };
    case 'rail': {
      const { label, ...described } = RAIL_TABLE[key.result];
      const owner = key.owner.join('.');
      return { ...described, name, label: `${label}, ${owner}`, words: `${owner} ${label}` };
    }
    case 'flight': {
      const { label, ...described } = FLIGHT_TABLE[key.result];
      const withOwner = `${label}, ${key.owner}`;
      return { ...described, name, label: withOwner, words: withOwner };
    }
  }
}

/** Undefined when there is no result of this name. */
export function resultOf(name: ResultId): ResultSchema;
export function resultOf(name: string): ResultSchema | undefined;
export function resultOf(name: string): ResultSchema | undefined {
  const key = resultNamed(name);
  return key && schemaOfResult(key);
}
