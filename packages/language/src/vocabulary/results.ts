/** Names of the results: what `require` may use, hovers show and JSON carries. Stable: a name once given stays. */
import {
  CHARGE,
  CURRENT,
  FORCE,
  FREQUENCY,
  LENGTH,
  MASS,
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
import type { Dimension } from '../units/quantity.ts';

export interface ResultSchema {
  readonly name: string;
  /** A few words, as a row's heading. */
  readonly label: string;
  /** In which the trade reads it; none for a plain number. */
  readonly unit: string;
  readonly dimension: Dimension;
  readonly says: string;
}

function result(name: string, label: string, unit: string, dimension: Dimension, says: string): ResultSchema {
  return { name, label, unit, dimension, says };
}

/** All but those of rails, in the order in which a sheet lists them. */
export const RESULTS: readonly ResultSchema[] = [
  result('all_up_weight', 'all-up weight', 'g', MASS, 'Everything on the scale, pack in, ready to fly.'),
  result('dry_mass', 'dry mass', 'g', MASS, 'Everything but the pack.'),
  result('pack_mass_fraction', 'pack share of weight', '%', NONE, 'Mass of the pack over all-up weight.'),
  result('gram_cost_time', 'cost of a gram', 's/g', TIME_PER_MASS, 'Seconds of hover lost for each gram more.'),

  result(
    'no_load_speed',
    'no-load speed',
    'rpm',
    ROTATIONAL_SPEED,
    'Speed of the motor without a propeller, full pack, at the duty limit.',
  ),
  result(
    'effective_kv',
    'effective kV',
    'rpm/V',
    SPEED_PER_VOLT,
    'kv times the duty limit: what the motor turns for each volt of the pack at most.',
  ),

  result('hover_speed', 'hover speed', 'rpm', ROTATIONAL_SPEED, 'Speed of the rotors in hover, pack half used.'),
  result(
    'hover_duty',
    'hover duty',
    '%',
    NONE,
    'Share of the pack voltage that the motors need to hover, pack half used.',
  ),
  result('hover_current', 'hover current', 'A', CURRENT, 'Current from the pack in hover, all of it, pack half used.'),
  result('hover_power', 'hover power', 'W', POWER, 'Power from the pack in hover, all of it, pack half used.'),
  result(
    'hover_efficiency',
    'hover efficiency',
    'gf/W',
    THRUST_PER_POWER,
    'Grams carried for each watt from the pack, in hover.',
  ),
  result(
    'hover_time',
    'hover time',
    'min',
    TIME,
    'From a full pack to the reserve, or to where a load browns out, hovering all the time.',
  ),
  result(
    'flight_time',
    'flight time',
    'min',
    TIME,
    'From a full pack to the reserve, flown as the rules state, time on the ground taken off.',
  ),
  result('charge_used', 'charge used', 'mAh', CHARGE, 'What is out of the pack when the reserve begins.'),

  result('full_voltage', 'full-duty voltage', 'V', VOLTAGE, 'At the speed controller, full duty on a fresh pack.'),
  result('full_cell_voltage', 'full-duty cell voltage', 'V', VOLTAGE, 'Of one cell at full duty on a fresh pack.'),
  result(
    'full_current',
    'full-duty current',
    'A',
    CURRENT,
    'From the pack at full duty, all of it; a few seconds at most.',
  ),
  result(
    'full_motor_current',
    'full-duty motor current',
    'A',
    CURRENT,
    'Through the motor that draws most, at full duty.',
  ),
  result('full_motor_power', 'full-duty motor power', 'W', POWER, 'Into the motor that draws most, at full duty.'),
  result('full_power', 'full-duty power', 'W', POWER, 'From the pack at full duty, all of it.'),
  result('full_thrust', 'full-duty thrust', 'gf', FORCE, 'Of all rotors together, full duty on a fresh pack.'),
  result('full_speed', 'full-duty speed', 'rpm', ROTATIONAL_SPEED, 'Of the fastest rotor, full duty on a fresh pack.'),
  result('tip_speed', 'tip speed', 'm/s', SPEED, 'Of the fastest blade tip at full duty.'),
  result(
    'tip_mach',
    'tip Mach number',
    '',
    NONE,
    'Tip speed over the speed of sound; above 0.75 it gets loud and loses thrust.',
  ),
  result('thrust_to_weight', 'thrust-to-weight', '', NONE, 'Full-duty thrust over weight, fresh pack.'),

  result(
    'reserve_cell_voltage',
    'cell voltage at the reserve',
    'V',
    VOLTAGE,
    'Of one cell at full duty when the reserve begins.',
  ),
  result(
    'reserve_thrust_to_weight',
    'thrust-to-weight at the reserve',
    '',
    NONE,
    'Full-duty thrust over weight when the reserve begins.',
  ),
  result('reserve_hover_duty', 'hover duty at the reserve', '%', NONE, 'Duty needed to hover when the reserve begins.'),

  result(
    'burst_current',
    'burst current',
    'A',
    CURRENT,
    'From the pack in a burst as the rules define it, fresh pack.',
  ),
  result('burst_cell_voltage', 'burst cell voltage', 'V', VOLTAGE, 'Of one cell in a burst, fresh pack.'),

  result(
    'disc_loading',
    'disc loading',
    'kg/m^2',
    SURFACE_DENSITY,
    'Weight over the area the rotors sweep; less is quieter and flies longer.',
  ),

  result(
    'stall_current',
    'stall current',
    'A',
    CURRENT,
    'Through a jammed motor at hover duty: voltage over resistance.',
  ),
  result(
    'stall_ratio',
    'stall current over burst rating',
    '',
    NONE,
    'How many times its burst rating a channel sees when its propeller jams in hover.',
  ),

  result(
    'land_by_hover_voltage',
    'land at, read in hover',
    'V',
    VOLTAGE,
    'Volts per cell, as read in hover, at which to be on the ground.',
  ),
  result(
    'land_by_resting_voltage',
    'land at, resting',
    'V',
    VOLTAGE,
    'Volts per cell, motors off, at which to be on the ground.',
  ),

  result('wind_held', 'wind held', 'm/s', SPEED, 'The strongest steady wind in which it keeps its position.'),
  result(
    'motor_temperature',
    'motor temperature',
    'degC',
    TEMPERATURE_POINT,
    'Of the hottest winding as flown; only where a thermal resistance is known.',
  ),
  result(
    'pack_grams_left',
    'pack grams left',
    'g',
    MASS,
    'How much heavier the pack may be before a requirement fails; below zero where one does.',
  ),
  result(
    'balance_offset',
    'balance offset',
    'mm',
    LENGTH,
    'How far the centre of mass lies ahead of the middle of the rotors.',
  ),
  result(
    'front_thrust_share',
    'thrust share of the front rotors',
    '%',
    NONE,
    'Of the hover thrust; half where it is balanced. The pair with the larger share works harder and wears sooner.',
  ),
  result(
    'pack_balance_position',
    'pack position for balance',
    'mm',
    LENGTH,
    'How far ahead of the middle of the rotors the pack must sit for the centre of mass to lie there.',
  ),

  result('mount_frequency', 'mount frequency', 'Hz', FREQUENCY, 'At which the softest mount rings with its load.'),
  result(
    'mount_transmissibility',
    'mount transmissibility',
    '',
    NONE,
    'How much of a once-per-revolution shake passes the mount in hover; 1 is all of it.',
  ),
];

const RAIL: readonly ResultSchema[] = [
  result('voltage', 'rail voltage', 'V', VOLTAGE, 'What the rail delivers in hover at the reserve.'),
  result('burst_voltage', 'rail voltage in a burst', 'V', VOLTAGE, 'What the rail delivers in a burst at the reserve.'),
  result('current', 'rail current', 'A', CURRENT, 'What the rail delivers in hover.'),
];

const byName = new Map(RESULTS.map((entry) => [entry.name, entry]));
const railByName = new Map(RAIL.map((entry) => [entry.name, entry]));

/** What may follow `rail.<name>.`. */
export const RAIL_RESULTS: readonly string[] = RAIL.map((entry) => entry.name);

/** `hover_time`, `rail.video.voltage`, `rail.Top.video.burst_voltage`; undefined when there is no such result. */
export function resultOf(name: string): ResultSchema | undefined {
  if (!name.startsWith('rail.')) return byName.get(name);
  const steps = name.split('.');
  const schema = railByName.get(steps.at(-1) ?? '');
  const rail = steps.slice(1, -1);
  if (!schema || rail.length === 0 || rail.includes('')) return undefined;
  return { ...schema, name, label: `${schema.label}, ${rail.join('.')}` };
}

/** Names without the rails' own, in the order in which a sheet lists them. */
export function resultNames(): readonly string[] {
  return RESULTS.map((entry) => entry.name);
}

export function isResultName(name: string): boolean {
  return byName.has(name);
}
