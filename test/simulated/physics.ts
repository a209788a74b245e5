/**
 * Another model of a multirotor, written apart from `physics` and on purpose of another make: what a craft does whose numbers are known. Bisection
 * instead of closed forms and secants; coefficients that bend over speed; a commutation drop that saturates; iron loss with another
 * exponent; ripple as a triangle on a resistance that grows with frequency; cells with another curve and another growth of resistance.
 * It shares no line with the project's own model: it takes plain numbers.
 */

interface TrueMotor {
  /** rad/s per V */
  readonly speedConstant: number;
  /** ohm, as warm as it is */
  readonly resistance: number;
  /** ohm per rad/s, small currents */
  readonly commutation: number;
  /** Of it, lost. */
  readonly lossShare: number;
  /** Change of the drop at full load, relative. */
  readonly saturation: number;
  readonly inductance: number;
  readonly noLoadCurrent: number;
  readonly noLoadSpeed: number;
}

interface TruePropeller {
  readonly diameter: number;
  readonly thrustCoefficient: number;
  readonly powerCoefficient: number;
  /** rad/s at which they are valid. */
  readonly speed: number;
  /** Slope and bend over the logarithm of the speed. */
  readonly thrust: readonly [number, number];
  readonly power: readonly [number, number];
}

export interface TrueDrive {
  readonly count: number;
  readonly motor: TrueMotor;
  readonly propeller: TruePropeller;
  /** Installed over bare thrust. */
  readonly gain: number;
  readonly escResistance: number;
  readonly pwmFrequency: number;
  /** Lost at half duty in addition to what is modelled, relative. */
  readonly partDutyLoss: number;
}

export interface TruePack {
  readonly cells: number;
  /** Ohm of one position at 60 % charge. */
  readonly resistance: number;
  readonly leads: number;
  /** C */
  readonly capacity: number;
  /** C at rest */
  readonly label: number;
  readonly highVoltage: boolean;
  /** V */
  readonly offset: number;
  readonly tilt: number;
  /** How much of the usual growth towards empty. */
  readonly growth: number;
  readonly reserve: number;
}

export interface TrueCraft {
  readonly mass: number;
  readonly density: number;
  readonly drive: TrueDrive;
  readonly pack: TruePack;
  /** W in hover and at full duty, drawn from the bus whatever its voltage. */
  readonly draw: number;
  readonly peak: number;
  readonly dutyLimit: number;
}

const G = 9.80665;

function bisect(of: (x: number) => number, low: number, high: number): number {
  let [a, b] = [low, high];
  const rising = of(b) > of(a);
  for (let i = 0; i < 60; i++) {
    const middle = (a + b) / 2;
    if (of(middle) > 0 === rising) b = middle;
    else a = middle;
  }
  return (a + b) / 2;
}

// ---- cells ----

const CHARGES = [0, 0.05, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.8, 1];
const VOLTS = [3.27, 3.61, 3.69, 3.73, 3.77, 3.8, 3.84, 3.87, 4.02, 4.2];

export function restingVolts({ cells, highVoltage, offset, tilt }: TruePack, charge: number): number {
  const i = Math.min(CHARGES.length - 2, Math.max(0, CHARGES.findIndex((edge) => edge > charge) - 1));
  const at = charge >= 1 ? CHARGES.length - 2 : i;
  const share = (charge - (CHARGES[at] ?? 0)) / ((CHARGES[at + 1] ?? 1) - (CHARGES[at] ?? 0));
  const usual = (VOLTS[at] ?? 0) + share * ((VOLTS[at + 1] ?? 0) - (VOLTS[at] ?? 0));
  const excess = highVoltage ? 0.02 + 0.13 * Math.max(0, charge - 0.2) * 1.25 : 0;
  const inside = Math.min(1, charge / 0.15, (1 - charge) / 0.1);
  return cells * (usual + excess + Math.max(0, inside) * (offset + tilt * (charge - 0.5)));
}

function cellOhms({ cells, resistance, growth }: TruePack, charge: number): number {
  const usual = 2.2 * (Math.exp(-charge / 0.1) - Math.exp(-6)) - 0.1 * (charge - 0.6);
  return cells * resistance * (1 + growth * usual);
}

// ---- one rotor ----

function coefficient(usual: number, [slope, bend]: readonly [number, number], far: number): number {
  return usual * (1 + slope * far + bend * far ** 2);
}

interface Turning {
  readonly speed: number;
  readonly thrust: number;
  readonly shaft: number;
  /** A in the winding. */
  readonly current: number;
  /** V ahead of the switches. */
  readonly applied: number;
}

function turningAt(
  { motor, propeller, gain, escResistance }: TrueDrive,
  density: number,
  speed: number,
  load: number,
): Turning {
  const far = Math.log(speed / propeller.speed);
  const turns = speed / (2 * Math.PI);
  const thrust =
    gain *
    coefficient(propeller.thrustCoefficient, propeller.thrust, far) *
    density *
    turns ** 2 *
    propeller.diameter ** 4;
  const shaft =
    coefficient(propeller.powerCoefficient, propeller.power, far) * density * turns ** 3 * propeller.diameter ** 5;
  const back = speed / motor.speedConstant;
  const iron = motor.noLoadCurrent * (0.5 + 0.5 * (speed / motor.noLoadSpeed) ** 1.2) * back;
  const drop = motor.commutation * speed * (1 + motor.saturation * load);
  // Shaft and iron from what the winding takes, less copper and the lossy part of the commutation: i·back + useful·i² is that power.
  const power = shaft + iron;
  const useful = (1 - motor.lossShare) * drop;
  const current = (2 * power) / (back + Math.sqrt(back ** 2 + 4 * useful * power));
  return { speed, thrust, shaft, current, applied: back + current * (motor.resistance + drop + escResistance) };
}

/** Load of the iron, 0 … 1, by duty. */
const loadOf = (duty: number): number => Math.max(0, Math.min(1, (duty - 0.5) / 0.5)) ** 2;

/** A that one channel takes from the bus. */
function channelAmperes(drive: TrueDrive, { applied, current }: Turning, volts: number): number {
  const duty = Math.min(1, applied / volts);
  const swing = (volts * duty * (1 - duty)) / (drive.pwmFrequency * drive.motor.inductance);
  const alternating = (drive.motor.resistance + drive.escResistance) * (1 + drive.pwmFrequency / 90e3);
  const saturating = swing / (1 + swing / (3 * current + 1));
  const ripple = (alternating * saturating ** 2) / 12;
  const partDutyFactor = 1 + drive.partDutyLoss * Math.sin(Math.PI * duty);
  return ((applied * current + ripple) * partDutyFactor) / volts;
}

// ---- whole craft ----

export interface TruePoint {
  readonly amperes: number;
  readonly volts: number;
  readonly duty: number;
  readonly speed: number;
  readonly thrust: number;
}

function busAt(pack: TruePack, charge: number, amperes: (volts: number) => number, held = 1): number | undefined {
  const open = restingVolts(pack, charge);
  const ohms = held * cellOhms(pack, charge) + pack.leads;
  const excess = (volts: number) => volts - open + ohms * amperes(volts);
  if (excess(open) < 0) return open;
  if (excess(open / 2) > 0) return undefined;
  return bisect(excess, open / 2, open);
}

export function hovering(craft: TrueCraft, charge: number): TruePoint | undefined {
  const { drive, density, pack } = craft;
  const asked = (craft.mass * G) / drive.count;
  const speed = bisect(
    (w) => turningAt(drive, density, w, 0).thrust - asked,
    drive.propeller.speed / 20,
    drive.propeller.speed * 20,
  );
  const turning = turningAt(drive, density, speed, 0);
  const amperes = (volts: number) => drive.count * channelAmperes(drive, turning, volts) + craft.draw / volts;
  const volts = busAt(pack, charge, amperes);
  if (volts === undefined || turning.applied > craft.dutyLimit * volts) return undefined;
  return { amperes: amperes(volts), volts, duty: turning.applied / volts, speed, thrust: craft.mass * G };
}

/** @param held share of the cells' resistance that a short burst sees */
export function atDuty(craft: TrueCraft, charge: number, duty: number, held = 1): TruePoint | undefined {
  const { drive, density, pack } = craft;
  const turningOn = (volts: number) =>
    turningAt(
      drive,
      density,
      bisect(
        (w) => turningAt(drive, density, w, loadOf(duty)).applied - duty * volts,
        1,
        duty * volts * drive.motor.speedConstant,
      ),
      loadOf(duty),
    );
  const amperes = (volts: number) => drive.count * channelAmperes(drive, turningOn(volts), volts) + craft.peak / volts;
  const volts = busAt(pack, charge, amperes, held);
  if (volts === undefined) return undefined;
  const { speed, thrust } = turningOn(volts);
  return { amperes: amperes(volts), volts, duty, speed, thrust: drive.count * thrust };
}

/** One motor on a stand's supply. */
export function onStand(
  drive: TrueDrive,
  density: number,
  volts: number,
  duty: number,
): { amperes: number; thrust: number; speed: number; torque: number } {
  const at = (w: number) => turningAt(drive, density, w, loadOf(duty));
  const speed = bisect((w) => at(w).applied - duty * volts, 1, duty * volts * drive.motor.speedConstant);
  const turning = at(speed);
  return {
    amperes: channelAmperes(drive, turning, volts),
    thrust: turning.thrust,
    speed,
    torque: turning.shaft / speed,
  };
}

/** s from full to a charge, hovering; undefined where it does not. */
export function secondsTo(craft: TrueCraft, last: number): number | undefined {
  const steps = 40;
  const width = (1 - last) / steps;
  let seconds = 0;
  for (let i = 0; i < steps; i++) {
    const point = hovering(craft, 1 - (i + 0.5) * width);
    if (!point) return undefined;
    seconds += (width * craft.pack.capacity) / point.amperes;
  }
  return seconds;
}

/** C used by hovering so long. */
export function usedIn(craft: TrueCraft, seconds: number): number {
  const steps = 40;
  let used = 0;
  for (let i = 0; i < steps; i++) {
    const point = hovering(craft, Math.max(0.02, 1 - used / craft.pack.capacity));
    used += ((point?.amperes ?? 0) * seconds) / steps;
  }
  return used;
}
