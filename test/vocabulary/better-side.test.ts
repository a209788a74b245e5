/** Which of two builds has the advantage by a result is stated in its line: what it is a quantity of has to lead to the same. */
import { describe, expect, it } from 'vitest';
import {
  alike,
  CURRENT,
  FORCE,
  MASS,
  money,
  POWER,
  ROTATIONAL_SPEED,
  SPEED,
  SURFACE_DENSITY,
  TEMPERATURE_POINT,
  THRUST_PER_POWER,
  TIME,
  TIME_PER_MASS,
  VOLTAGE,
} from '../../packages/language/src/units/dimension.ts';
import { FLIGHT_RESULTS, RAIL_RESULTS, RESULTS } from '../../packages/language/src/vocabulary/results.ts';

/** What is spent, endured or lifted is better small, what is delivered or reached better large. */
const BETTER_BY_QUANTITY = {
  less: [MASS, SURFACE_DENSITY, TIME_PER_MASS, CURRENT, POWER, ROTATIONAL_SPEED, TEMPERATURE_POINT, money('EUR')],
  more: [FORCE, THRUST_PER_POWER, VOLTAGE, TIME, SPEED],
} as const;

/** Results whose quantity does not lead to it, or leads to the opposite. */
const BETTER_BY_NAME = {
  less: [
    // Shares of what there is that are taken, and what is off.
    'pack_mass_fraction',
    'hover_duty',
    'reserve_hover_duty',
    'stall_ratio',
    'tip_mach',
    'mount_transmissibility',
    'balance_offset',
    // A blade that is faster is louder and nearer to breaking.
    'tip_speed',
    // The same legs flown with less, and a longer way before the voltage leads home.
    'flight.time',
    'flight.charge',
    'flight.turn_back_voltage',
  ],
  more: [
    // What is left to fight gravity, to add, to use, or to go.
    'thrust_to_weight',
    'reserve_thrust_to_weight',
    'pack_grams_left',
    'charge_used',
    'flight.charge_left',
    'range',
    'flight.turn_back_distance',
    // Without a load speed is what a motor can deliver.
    'no_load_speed',
    'effective_kv',
    // The front rotors and the pack: shares and places that are no advantage either way have one all the same.
    'front_thrust_share',
    'pack_balance_position',
    // Stiffer than what shakes it.
    'mount_frequency',
  ],
} as const;

const ALL = [
  ...RESULTS,
  ...RAIL_RESULTS.map((result) => ({ ...result, name: `rail.${result.name}` })),
  ...FLIGHT_RESULTS.map((result) => ({ ...result, name: `flight.${result.name}` })),
];

const SIDES = ['less', 'more'] as const;

const byName = (name: string) => SIDES.filter((side) => BETTER_BY_NAME[side].some((one) => one === name));

describe('the better side of a result', () => {
  it.each(ALL)('$name: $better', ({ name, dimension, better }) => {
    const byQuantity = SIDES.filter((side) => BETTER_BY_QUANTITY[side].some((one) => alike(one, dimension)));
    const named = byName(name);
    expect(named.length > 0 ? named : byQuantity).toEqual([better]);
  });

  it('is listed of results that there are', () => {
    const names = ALL.map(({ name }) => name);
    expect(SIDES.flatMap((side) => BETTER_BY_NAME[side].filter((name) => !names.includes(name)))).toEqual([]);
  });
});
