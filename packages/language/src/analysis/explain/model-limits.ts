/** What the model leaves out, when that matters, and which results it touches: on the pages, not only in the code. */

export interface ModelLimit {
  readonly title: string;
  readonly neglected: string;
  /** When it matters, and by how much where that is known. */
  readonly matters: string;
  readonly results: readonly string[];
}

const LEVEL = ['endurance_speed', 'endurance', 'range_speed', 'range'] as const;
const HOVER = ['hover_speed', 'hover_duty', 'hover_current', 'hover_power', 'hover_efficiency', 'hover_time'];
const FLIGHT = ['flight_time', 'charge_used', 'reserve_hover_duty', 'gram_cost_time'];
const FULL = [
  'full_voltage',
  'full_cell_voltage',
  'full_current',
  'full_motor_current',
  'full_motor_power',
  'full_power',
  'full_thrust',
  'full_speed',
  'thrust_to_weight',
  'reserve_thrust_to_weight',
  'reserve_cell_voltage',
];
const BURST = ['burst_current', 'burst_cell_voltage', 'land_by_hover_voltage', 'land_by_resting_voltage'];

export const MODEL_LIMITS: readonly ModelLimit[] = [
  {
    title: 'Steady states only',
    neglected: 'Acceleration of rotors and craft, control action, gusts. A burst is the steady state at its end.',
    matters:
      'In aerobatics and gusts: an active flight controller adds some 5 to 15 % to hover power in rough air (common practice). Spin-up makes current peaks of some ten milliseconds above every figure here.',
    results: [...HOVER, ...FLIGHT, ...BURST, ...FULL],
  },
  {
    title: 'Recovery of the pack',
    neglected:
      'The two time constants of a cell (seconds, minutes) are lumped into one steady resistance; a pack does not recover between bursts.',
    matters:
      'A burst of a second from rest sags less than stated; the tenth burst in a row sags as stated. In the first few seconds after take-off the real voltage is higher than computed.',
    results: [...BURST, ...FULL],
  },
  {
    title: 'Self-heating of the pack',
    neglected: 'Cells stay at the declared temperature over the whole flight.',
    matters: 'A cold pack warms up and recovers within minutes, so that the end of the flight is better than stated.',
    results: [...FLIGHT, ...BURST],
  },
  {
    title: 'Ripple',
    neglected:
      'The ripple of the winding current adds to its copper loss. Extra copper and iron loss at the PWM frequency are left out, and so is the ripple of the bus.',
    matters:
      'Small motors with low inductance below 48 kHz: the ripple loss itself is included, what is left out adds to it. From 8-inch systems up it does not matter.',
    results: [...HOVER, ...FLIGHT],
  },
  {
    title: 'Timing and shape of commutation',
    neglected:
      'The board’s timing advance, blanking, dead time; the motor is a direct-current machine with a commutation drop.',
    matters:
      'High advance raises full-duty speed and current by some percent; it is inside the ± of full duty until a row at full duty was measured or a full burst observed. What is a term and what is ± was decided on ten measured pairs of 8 to 15 inch, predicted from stator size and kv: without the commutation drop loaded speed came out 25 % high and full-duty current nearly double, so it is a term; its lossy share (0.55 ± 0.3) and the winding itself (× or ÷ 2 from size alone) are ±.',
    results: FULL,
  },
  {
    title: 'Part-duty loss of small drives',
    neglected:
      'Published tests show small systems to take up to half as much again as ideal PWM at part duty; only a part of that is explained.',
    matters:
      'Below some 50 g of thrust per rotor: a term of 20 % at 25 g, 3 % above 200 g, is part of the ± of hover until rows near hover were measured or a hover observed.',
    results: [...HOVER, ...FLIGHT],
  },
  {
    title: 'Saturation and magnets that weaken',
    neglected: 'kv is the same at all currents and temperatures.',
    matters:
      'Far above a motor’s burst rating, and in overheated motors: they turn faster, with less torque per ampere.',
    results: FULL,
  },
  {
    title: 'Reynolds number and tip speed',
    neglected:
      'C_T and C_P follow one power law of speed, and beyond it what rows of a stand show; the tip Mach number has no effect on them.',
    matters:
      'Over a propeller’s range C_T rises by some 8 % and C_P falls by some 7 % in open data; bench rows near hover thrust are worth more than rows far from it. Above a tip Mach number of 0.75 thrust is lower than computed.',
    results: [...HOVER, ...FULL, 'tip_mach'],
  },
  {
    title: 'Moving through the air',
    neglected: 'Edgewise and axial flow at the rotors: everything is computed in still air.',
    matters:
      'Slow forward flight needs a little less than hover, fast flight more; descending into its own wake needs more and shakes the craft.',
    results: [...HOVER, ...FLIGHT],
  },
  {
    title: 'Ground, walls and ceilings',
    neglected: 'The effect of nearby surfaces on the rotors.',
    matters: 'Within a rotor’s diameter of a surface: less power near the ground, a pull towards a ceiling.',
    results: HOVER,
  },
  {
    title: 'One duty for all rotors',
    neglected: 'If the centre of mass is off the middle, some rotors work harder; here all have the same duty.',
    matters: 'With the centre of mass more than a tenth of the arm’s length off: look at the balance.',
    results: [...HOVER, 'wind_held'],
  },
  {
    title: 'Coaxial rotors',
    neglected:
      'A coaxial pair is two equal rotors with one factor on thrust; that the lower one works in the wash of the upper one is not modelled separately.',
    matters: 'For the split of current between upper and lower: the lower one draws some 10 to 30 % more.',
    results: [...HOVER, ...FULL],
  },
  {
    title: 'Wind',
    neglected: 'Gusts, the pitching moment of ducts, drag that changes with tilt, thrust gained from the wind.',
    matters: 'Ducts in gusts: they pitch up and need far more thrust than the steady figure.',
    results: ['wind_held'],
  },
  {
    title: 'Level flight',
    neglected:
      'Turns and gusts; rotors in the wake of others; lift of the body; drives that work better or worse than in hover. Winds and climbs are in flights in legs, not in these results.',
    matters:
      'Faster than 10 m/s, where no published measurement was found, and in wind: turn back by voltage, not by distance.',
    results: LEVEL,
  },
  {
    title: 'Heat',
    neglected:
      'Winding and iron are one body; the declared thermal resistance is the same at all speeds; the temperature is steady.',
    matters: 'In flights shorter than some minutes the motor stays cooler; without airflow it gets hotter.',
    results: ['motor_temperature'],
  },
  {
    title: 'Rails',
    neglected:
      'Efficiency over load, start-up, and a regulator that limits its current: ratings are checked, but the limiting is not modelled.',
    matters: 'At a tenth of a regulator’s rating its efficiency is lower than its data sheet states.',
    results: ['rail voltages and currents'],
  },
  {
    title: 'Mounts',
    neglected: 'Rotation and coupling of the six motions, stiffening at large amplitude, resonances of the frame.',
    matters: 'A camera far from the middle of its mount rocks at a lower frequency than the computed one.',
    results: ['mount_frequency', 'mount_transmissibility'],
  },
];
