/** What the model leaves out, when that matters, and which results it touches: told on the pages, not only in the code. */

export interface ModelLimit {
  readonly title: string;
  readonly neglected: string;
  /** When it matters, and by how much where that is known. */
  readonly matters: string;
  readonly results: readonly string[];
}

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
      'In aerobatics and gusts: a flight controller at work adds some 5 to 15 % to hover power in rough air (common practice). Spin-up makes current peaks of some ten milliseconds above every figure here.',
    results: [...HOVER, ...FLIGHT, ...BURST, ...FULL],
  },
  {
    title: 'Recovery of the pack',
    neglected:
      'The two time constants of a cell (seconds, minutes) are one steady resistance; a pack does not recover between bursts.',
    matters:
      'A burst of a second from rest sags less than stated; the tenth burst in a row sags as stated. The first few seconds after take-off look better than the page.',
    results: [...BURST, ...FULL],
  },
  {
    title: 'Self-heating of the pack',
    neglected: 'Cells stay at the declared temperature over the whole flight.',
    matters: 'A cold pack warms up and gets better within minutes, so that its end is kinder than stated.',
    results: [...FLIGHT, ...BURST],
  },
  {
    title: 'Ripple',
    neglected:
      'The swing of the winding current is an addition to its heat. Extra resistance of copper and iron loss at the switching frequency are left out, and so is the ripple of the bus.',
    matters:
      'Small motors with low inductance under 48 kHz: the loss itself is in, what is left out adds to it. From 8-inch systems up it does not matter.',
    results: [...HOVER, ...FLIGHT],
  },
  {
    title: 'Timing and shape of commutation',
    neglected:
      'The board’s timing advance, blanking, dead time; the motor is a machine on direct current with a commutation drop.',
    matters:
      'High advance raises full-duty speed and current by some percent; it is inside the ± of full duty until a row at full duty was measured or a full burst observed. What is a term and what is ± was decided on ten measured pairs of 8 to 15 inch, predicted from stator size and kv: without the commutation drop loaded speed came out 25 % high and full-duty current nearly double, so it is a term; its lossy share (0.55 ± 0.3) and the winding itself (× or ÷ 2 from size alone) are ±.',
    results: FULL,
  },
  {
    title: 'Part-duty loss of small drives',
    neglected:
      'Published tests show small systems to take up to half as much again as an ideal chopper at part duty; only a part of that is explained.',
    matters:
      'Below some 50 g of thrust a rotor: a term of 20 % at 25 g, 3 % above 200 g, stands in the ± of hover until rows near hover were measured or a hover observed.',
    results: [...HOVER, ...FLIGHT],
  },
  {
    title: 'Saturation and magnets that weaken',
    neglected: 'kv is the same at all currents and temperatures.',
    matters:
      'Far past a motor’s short rating, and in motors that got too hot: they turn faster, with less torque for each ampere.',
    results: FULL,
  },
  {
    title: 'Reynolds number and tip speed',
    neglected: 'C_T and C_P are the same at all speeds.',
    matters:
      'Over a propeller’s range C_T rises by some 8 % and C_P falls by some 7 % in open data; rows near hover thrust are worth more than rows far from it. Above a tip Mach number of 0.75 thrust falls behind.',
    results: [...HOVER, ...FULL, 'tip_mach'],
  },
  {
    title: 'Moving through the air',
    neglected: 'Edgewise and axial flow at the rotors: everything is computed in still air.',
    matters:
      'Slow forward flight needs a little less than hover, fast flight more; descending into one’s own wake needs more and shakes.',
    results: [...HOVER, ...FLIGHT],
  },
  {
    title: 'Ground, walls and ceilings',
    neglected: 'Their effect on the rotors.',
    matters: 'Within a rotor’s diameter of a surface: less power near the ground, a pull towards a ceiling.',
    results: HOVER,
  },
  {
    title: 'One duty for all rotors',
    neglected: 'Where mass sits off the middle, some rotors work harder; all run at one duty here.',
    matters: 'With the centre of mass more than a tenth of the arm’s length off: look at the balance.',
    results: [...HOVER, 'wind_held'],
  },
  {
    title: 'Stacked rotors',
    neglected:
      'A pair is two alike rotors with one factor on thrust; that the lower one works in the wash of the upper is not told apart.',
    matters: 'For the split of current between upper and lower: the lower one draws some tenths more.',
    results: [...HOVER, ...FULL],
  },
  {
    title: 'Wind',
    neglected: 'Gusts, the pitching moment of ducts, drag that changes with the lean, thrust gained from the wind.',
    matters: 'Ducts in gusts: they pitch up and want far more than the steady figure.',
    results: ['wind_held'],
  },
  {
    title: 'Heat',
    neglected:
      'One body for winding and iron; the declared heat path is the same at all speeds; the motor has settled.',
    matters: 'Flights shorter than some minutes end cooler; in a pocket of still air it gets hotter.',
    results: ['motor_temperature'],
  },
  {
    title: 'Rails',
    neglected: 'Efficiency over load, start-up, current limits as they act: they are judged, not enforced.',
    matters: 'At a tenth of a regulator’s rating its efficiency is lower than its page says.',
    results: ['rail voltages and currents'],
  },
  {
    title: 'Mounts',
    neglected: 'Rotation and coupling of the six motions, stiffening at large amplitude, resonances of the frame.',
    matters: 'A camera far off its mount’s middle rocks at a lower frequency than the one computed.',
    results: ['mount_frequency', 'mount_transmissibility'],
  },
];
