/**
 * The same craft as a netlist for ngspice: an independent solver of the same equations, with speed as a node voltage, torque
 * as its current, and in hover the duty as one more unknown. It proves our arithmetic, not the model.
 */
import { Simulation } from 'eecircuit-engine';
import { packCellResistance, packRestingVoltage } from '../../packages/language/src/physics/chemistry.ts';
import type { Craft, Load, Rail, RotorGroup, Source } from '../../packages/language/src/physics/craft.ts';

export interface SpicePoint {
  readonly busVoltage: number;
  readonly packCurrent: number;
  readonly duty: number;
  /** One per rotor group, A. */
  readonly motorCurrents: readonly number[];
  /** One a rail, V. */
  readonly railVoltages: readonly number[];
}

export interface SpiceCase {
  readonly craft: Craft;
  readonly stateOfCharge: number;
  /** N; undefined for full duty with loads at their peak. */
  readonly thrust: number | undefined;
}

export async function startSpice(): Promise<(given: SpiceCase) => Promise<SpicePoint | undefined>> {
  const simulation = new Simulation();
  await simulation.start();
  let runs = 0;
  const attempt = async (given: SpiceCase, sag: number): Promise<SpicePoint | undefined> => {
    const title = `craft ${++runs}`;
    simulation.setNetList(netlist(title, given, sag));
    const result = await simulation.runSim();
    // Without convergence the simulator hands out the last result it had.
    if (!result.header.includes(`Title: ${title}\n`)) return undefined;
    const values = new Map(result.data.map(({ name, values }) => [name.toLowerCase(), Number(values[0])]));
    const read = (name: string): number => values.get(name) ?? Number.NaN;
    const openCircuit = packRestingVoltage(given.craft.pack, given.stateOfCharge);
    const busVoltage = read('v(bus)');
    // Neither is the lower branch of a constant-power load an answer, nor a rotor that feeds the pack.
    if (!(busVoltage > openCircuit / 2 && busVoltage < openCircuit)) return undefined;
    return {
      busVoltage,
      packCurrent: -read('i(ve)'),
      duty: read('v(duty)'),
      motorCurrents: given.craft.rotors.map((_, i) => read(`i(vm${i})`)),
      railVoltages: given.craft.rails.map((_, i) => read(`v(rail${i})`)),
    };
  };
  return async (given) => {
    for (const sag of [0.05, 0.2, 0.35, 0]) {
      const point = await attempt(given, sag);
      if (point) return point;
    }
    return undefined;
  };
}

/** The netlist, with guesses to start from that suppose a relative sag of the bus. */
function netlist(title: string, { craft, stateOfCharge, thrust }: SpiceCase, sag: number): string {
  const openCircuit = packRestingVoltage(craft.pack, stateOfCharge);
  const resistance = packCellResistance(craft.pack, stateOfCharge) + craft.pack.leadResistance;
  const guessedSpeeds = craft.rotors.map((group) =>
    thrust === undefined
      ? 0.65 * craft.dutyLimit * openCircuit * group.motor.speedConstant
      : Math.sqrt(thrust / craft.rotors.reduce((sum, other) => sum + installedThrust(craft, other), 0)),
  );
  const [firstSpeed, firstGroup] = [guessedSpeeds[0] as number, craft.rotors[0] as RotorGroup];
  const guessedBus = (1 - sag) * openCircuit;
  const guessedDuty = (1.3 * firstSpeed) / firstGroup.motor.speedConstant / guessedBus;
  return [
    title,
    '.options reltol=1e-7 abstol=1e-12 vntol=1e-9 gmin=1e-15 itl1=2000',
    `ve e 0 ${openCircuit}`,
    `re e bus ${resistance}`,
    `bidle bus 0 i=${craft.escStandbyCurrent}`,
    ...craft.rails.flatMap(regulator),
    ...craft.loads.map((load, i) => consumer(craft, load, i, thrust === undefined)),
    ...craft.rotors.flatMap((group, i) => rotor(craft, group, i)),
    ...(thrust === undefined ? [`vduty duty 0 ${craft.dutyLimit}`] : dutyControl(craft, thrust, guessedDuty)),
    `.nodeset v(bus)=${guessedBus} v(duty)=${guessedDuty}`,
    ...guessedSpeeds.map((speed, i) => `.nodeset v(w${i})=${speed / 1000}`),
    '.op',
    '.end',
    '',
  ].join('\n');
}

const node = (source: Source): string => (source === 'bus' ? 'bus' : `rail${source}`);

function regulator(rail: Rail, i: number): string[] {
  const input = `v(${node(rail.from)})`;
  const output = {
    buck: `max(0,min(${rail.output},${input}-${rail.dropout}))`,
    linear: `max(0,min(${rail.output},${input}-${rail.dropout}))`,
    boost: `max(${rail.output},${input})`,
    buck_boost: `${rail.output}`,
  }[rail.type];
  const drawn = rail.type === 'linear' ? `i(vr${i})` : `v(rail${i})*i(vr${i})/(${rail.efficiency}*${input})`;
  return [
    `br${i} out${i} 0 v=${output}`,
    `vr${i} out${i} rail${i} 0`,
    `bi${i} ${node(rail.from)} 0 i=${drawn}+${rail.standbyCurrent}`,
  ];
}

function consumer(craft: Craft, load: Load, i: number, peak: boolean): string {
  const amount = peak ? load.peak : load.draw;
  const at = node(load.from);
  const volts = `v(${at})`;
  const half = load.from === 'bus' ? 0 : (craft.rails[load.from] as Rail).output / 2;
  const collapsed = half === 0 ? '0' : `${amount}*${volts}/${load.kind === 'power' ? half * half : half}`;
  const carried = load.kind === 'power' ? `${amount}/${volts}` : `${amount}`;
  return `bl${i} ${at} 0 i=(${volts} >= ${half}) ? ${carried} : ${collapsed}`;
}

function rotor(craft: Craft, group: RotorGroup, i: number): string[] {
  const { motor, propeller, esc } = group;
  const current = `i(vm${i})`;
  const speed = `(1000*v(w${i}))`;
  const slope = motor.commutationSlope;
  const load = (propeller.powerCoefficient * craft.air.density * propeller.diameter ** 5) / (2 * Math.PI) ** 3;
  const driving = `${current}/${motor.speedConstant}+${current}*${current}*${slope * (1 - motor.commutationLossShare)}`;
  const friction = `${motor.noLoadCurrent / motor.speedConstant}*(0.5+0.5*${speed}/${motor.noLoadSpeed})`;

  const total = motor.resistance + esc.resistance;
  const period = total / (motor.inductance * esc.pwmFrequency);
  const d = 'min(1,max(0,v(duty)))';
  const low = `(1-exp(-${d}*${period}))*(1-exp(-(1-${d})*${period}))/${(1 - Math.exp(-period)) * period}`;
  const swing = period < 0.01 ? `(${d}*(1-${d})*${period})^2/12` : `(${d}*(1-${d})-${low})`;
  const ripple = `v(bus)*${swing}/${total}`;
  const partDuty = `(1+${4 * (craft.partDutyPowerFactor - 1)}*${d}*(1-${d}))`;
  return [
    `bc${i} a${i} 0 v=v(duty)*v(bus)`,
    `vm${i} a${i} b${i} 0`,
    `rs${i} b${i} c${i} ${esc.resistance}`,
    `rm${i} c${i} f${i} ${motor.resistance}`,
    `be${i} f${i} 0 v=${speed}/${motor.speedConstant}+${current}*${slope}*${speed}`,
    `bt${i} 0 w${i} i=1000*(${driving}-${friction}-${load}*${speed}*abs(${speed}))`,
    `rw${i} w${i} 0 1e10`,
    `bb${i} bus 0 i=${group.count}*(v(duty)*${current}+${ripple})*${partDuty}`,
  ];
}

/** High enough to keep the thrust within a few millionths, low enough to converge. */
const CONTROL_GAIN = 1e5;

function dutyControl(craft: Craft, thrust: number, guess: number): string[] {
  const terms = craft.rotors.map(
    (group, i) => `${(installedThrust(craft, group) * 1e6) / thrust}*v(w${i})*abs(v(w${i}))`,
  );
  return [`bd duty 0 v=${guess}+${CONTROL_GAIN}*(1-(${terms.join('+')}))`];
}

/** Thrust of a whole group over speed squared, N/(rad/s)². */
function installedThrust(craft: Craft, { count, thrustGain, coaxialFactor, propeller }: RotorGroup): number {
  const bare = (propeller.thrustCoefficient * craft.air.density * propeller.diameter ** 4) / (2 * Math.PI) ** 2;
  return count * thrustGain * coaxialFactor * bare;
}
