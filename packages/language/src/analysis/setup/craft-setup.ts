/**
 * From a build and one of its pack options to the numbers that the physics takes: which figure becomes which number, and by
 * what formula. A figure that is missing leaves its part of the setup out, with the reason in words; the rest still computes.
 */
import type { Build, Feed, Figure, LoadUse, PackOption, Part, RailUse, RotorLine, Use } from '../../model/build.ts';
import { airAt } from '../../physics/air.ts';
import { coldFactor, restingVoltage, wornFactor } from '../../physics/chemistry.ts';
import type { Chemistry, Craft, Load, Pack, Propeller, Rail, RotorGroup, Source } from '../../physics/craft.ts';
import { leadPairResistance } from '../../physics/lead.ts';
import type { LoadLevel } from '../../physics/rails.ts';
import { equal, POWER } from '../../units/dimension.ts';
import * as modelForm from '../uncertainty/model-form.ts';
import { fullDutyOf } from './basis.ts';
import { courseTemplate } from './course.ts';
import { asRead, escTemplate, Lack, motorTemplate } from './drive.ts';
import { dryMass } from './mass.ts';
import { optionalTemplates } from './optional.ts';
import type { Setup } from './setup.ts';
import type { Formula, Template } from './template.ts';

export interface SetupTemplate {
  readonly template: Template<Setup>;
  /** The model's own term on part-duty power. */
  readonly partDuty: Figure;
  /** Why a part of the setup is left out, in words; the first reason that holds. */
  readonly reasons: {
    readonly dryMass?: string;
    readonly packMass?: string;
    readonly speedConstant?: string;
    readonly pack?: string;
    readonly craft?: string;
    readonly escBurst?: string;
  };
}

/** @param partDutyTerm the model's own term on part-duty power, which depends on the size of the rotors */
export function setupTemplate(build: Build, option: PackOption, partDutyTerm: Figure): SetupTemplate {
  const masses = { dry: dryMass(build, option), pack: option.part.figure('mass') };
  const packMass = masses.pack;

  const speedConstants = build.rotors.map(({ motor }) => motor.figure('kv'));
  const reserveFigure = reserveOf(build, option);
  const reserve: Formula = (read) => Math.min(1, Math.max(0, read(reserveFigure)));

  const packLack = new Lack();
  const pack = packTemplate(build, option, reserve, packLack);

  const craftLack = new Lack();
  const mass: Formula | number =
    masses.dry.formula && packMass ? sumOf(masses.dry.formula, (read) => option.count * read(packMass)) : 0;
  const craft = craftTemplate(build, option, { mass, pack, partDutyTerm }, craftLack);

  const escBurst = weakestBurst(build.escs);
  return {
    partDuty: partDutyTerm,
    template: {
      ...(masses.dry.formula && { dryMass: masses.dry.formula }),
      ...(packMass && { packMass: (read) => option.count * read(packMass) }),
      dutyLimit: asRead(option.dutyLimit),
      reserve,
      speedConstants: speedConstants.map((figure) => figure && asRead(figure)),
      ...(pack && {
        fullVoltage: (read) =>
          pack.cellsInSeries * (restingVoltage(pack.chemistry, 1) + read(modelForm.CHARGED_VOLTAGE)),
      }),
      ...(craft && { craft }),
      ...(escBurst && { escBurst: asRead(escBurst) }),
      airTemperature: asRead(build.rules.airTemperature),
      ...optionalTemplates(build, option),
      fullDutyFactor: asRead(fullDutyOf(build)),
    } as Template<Setup>,
    reasons: {
      ...(masses.dry.reason !== undefined && { dryMass: masses.dry.reason }),
      ...(!packMass && { packMass: `the mass of ${option.part.name} is not known` }),
      ...(!speedConstants[0] && { speedConstant: noSpeedConstant(build) }),
      ...(packLack.reason !== undefined && { pack: packLack.reason }),
      ...((packLack.reason ?? craftLack.reason) !== undefined && { craft: packLack.reason ?? craftLack.reason }),
      ...(!escBurst && { escBurst: 'no esc of the build states a burst rating' }),
    } as SetupTemplate['reasons'],
  };
}

const sumOf =
  (...terms: readonly Formula[]): Formula =>
  (read) =>
    terms.reduce((sum, formula) => sum + formula(read), 0);

function noSpeedConstant(build: Build): string {
  const [line] = build.rotors;
  return line ? `the kv of ${line.motor.name} is not known` : 'the build has no motors';
}

// ---- pack and leads ----

const CHEMISTRIES: ReadonlySet<string> = new Set<Chemistry>(['lipo', 'lihv', 'liion']);

export function chemistryOf(pack: Part): Chemistry {
  const word = pack.word('chemistry');
  return word !== undefined && CHEMISTRIES.has(word) ? (word as Chemistry) : 'lipo';
}

/** The pack's own lines come first, then what the build and its rules state. */
export const reserveOf = ({ rules }: Build, { part }: PackOption): Figure =>
  part.declared('reserve') ?? rules.reserve ?? modelForm.reserve(chemistryOf(part));

/** Of the whole option: packs in series add up. */
export function cellsInSeries({ part, count, arrangement }: PackOption): number | undefined {
  const cells = part.cells('cells');
  return cells && cells.series * (arrangement === 'series' ? count : 1);
}

export const packsInParallel = ({ count, arrangement }: PackOption): number => (arrangement === 'parallel' ? count : 1);

/** The label is taken at low current; a capacity measured in flight is what it is. */
export const flyingShare = (capacity: Figure): Figure | undefined =>
  capacity.origin === 'measured' ? undefined : modelForm.FLYING_CAPACITY;

/** Factor on the resistance of a cell by its age. */
export function wornBy(pack: Part): Formula {
  const cycles = pack.figure('cycles');
  return (read) => (cycles ? wornFactor(read(cycles)) : 1);
}

/** The same by its temperature: a charger's figure holds at the temperature behind it, else at that of a room. */
export function coldBy(pack: Part): Formula {
  const temperature = pack.figure('temperature');
  return coldBetween(temperature, pack.figure('cell_resistance')?.conditions.at);
}

/** Factor on a resistance from one temperature to another; where either is not stated, that at which resistances are stated. */
export const coldBetween =
  (to: Figure | undefined, from: Figure | undefined): Formula =>
  (read) =>
    (to ? coldFactor(read(to)) : 1) / (from ? coldFactor(read(from)) : 1);

/** One standard deviation of what an estimated resistance does not share with other packs: at least this, relative. */
const OWN_RESISTANCE = 0.12;

/** An estimated resistance has a part that packs have in common, so that one pack teaches the others. */
export function cellResistanceOf(figure: Figure): { readonly own: Figure; readonly shared: Figure | undefined } {
  if (figure.origin !== 'estimated') return { own: figure, shared: undefined };
  const shared = modelForm.PACK_RESISTANCE;
  const relative = figure.standardUncertainty / figure.value;
  const rest = Math.sqrt(Math.max(OWN_RESISTANCE ** 2, relative ** 2 - shared.standardUncertainty ** 2));
  return { own: { ...figure, standardUncertainty: rest * figure.value }, shared };
}

/** Cells and chemistry are known outright. */
type PackTemplate = Template<Pack> & Pick<Pack, 'cellsInSeries' | 'chemistry'>;

function packTemplate(build: Build, option: PackOption, reserve: Formula, lack: Lack): PackTemplate | undefined {
  const { part } = option;
  const cells = part.cells('cells');
  const inSeries = cellsInSeries(option);
  if (!cells) lack.say(`the cells of ${part.name} are not known`);
  const capacity = lack.figure(part, 'capacity');
  const cellResistance = lack.figure(part, 'cell_resistance');
  if (!cells || !inSeries || !capacity || !cellResistance) return undefined;

  const inParallel = packsInParallel(option);
  const usable = flyingShare(capacity);
  const { own: resistance, shared } = cellResistanceOf(cellResistance);
  const worn = wornBy(part);
  const cold = coldBy(part);
  const leads = leadsOf(build, option);
  return {
    cellsInSeries: inSeries,
    chemistry: chemistryOf(part),
    positionResistance: (read) =>
      (read(resistance) * (shared ? read(shared) : 1) * worn(read) * cold(read)) / (cells.parallel * inParallel),
    leadResistance: (read) => leads.reduce((sum, { resistance }) => sum + resistance(read), 0),
    capacity: (read) => read(capacity) * inParallel * (usable ? read(usable) : 1),
    restingOffset: asRead(modelForm.restingVoltage(chemistryOf(part))),
    chargeOffset: asRead(modelForm.CHARGED_VOLTAGE),
    resistanceGrowthShare: asRead(modelForm.RESISTANCE_GROWTH),
    reserve,
  };
}

/** Copper of a lead in use, K. */
const LEAD_TEMPERATURE = 303.15;

export interface LeadInRow {
  readonly label: string;
  /** Out and back, as joined. */
  readonly resistance: Formula;
}

/** Everything between cells and bus: packs as they are joined, then the leads in a row, each line's pieces side by side. */
export function leadsOf(build: Build, option: PackOption): LeadInRow[] {
  const { part, count, arrangement } = option;
  const joined = arrangement === 'parallel' ? 1 / count : count;
  const run = part.figure('lead');
  const area = run?.conditions.of;
  const plug = part.figure('plug_resistance');
  const row: LeadInRow[] = [];
  if (run && area) {
    row.push({
      label: `lead of ${part.name}`,
      resistance: (read) => leadPairResistance(read(area), read(run), LEAD_TEMPERATURE) * joined,
    });
  }
  if (plug) row.push({ label: `plug of ${part.name}`, resistance: (read) => read(plug) * joined });
  for (const lead of build.leads) {
    const pair = pairResistance(lead.part);
    if (pair) row.push({ label: lead.name, resistance: (read) => pair(read) / lead.count });
  }
  return row;
}

/** Both cores of a lead, as declared or by its copper. */
function pairResistance(lead: Part): Formula | undefined {
  const declared = lead.figure('resistance');
  if (declared) return asRead(declared);
  const area = lead.figure('wire');
  const length = lead.figure('length');
  return area && length ? (read) => leadPairResistance(read(area), read(length), LEAD_TEMPERATURE) : undefined;
}

// ---- rotors ----

interface Surroundings {
  readonly mass: Formula | number;
  readonly pack: PackTemplate | undefined;
  readonly partDutyTerm: Figure;
}

function craftTemplate(
  build: Build,
  option: PackOption,
  { mass, pack, partDutyTerm }: Surroundings,
  lack: Lack,
): Template<Craft> | undefined {
  if (build.rotors.length === 0) lack.say('the build has no motors');
  if (drivingAmong(build.escs).length === 0)
    lack.say(build.escs.length === 0 ? 'the build has no esc' : 'the build has no esc with channels');
  const made: Made[] = [];
  const rotors = build.rotors.map((line, i) => rotorTemplate(build, line, boardOf(build.escs, i), made, lack));
  const rails = railTemplates(build, lack);
  const loads = build.loads.map((load) => loadTemplate(load, build.rails));
  if (!pack || lack.reason !== undefined) return undefined;

  const { rules } = build;
  const density: Formula = (read) => airOf(build, read).density;
  return {
    mass,
    air: { density, speedOfSound: (read) => airOf(build, read).speedOfSound },
    rotors: rotors.filter((rotor) => rotor !== undefined),
    pack,
    rails,
    loads,
    escStandbyCurrent: (read) => build.escs.reduce((sum, board) => sum + board.count * escStandby(board, read), 0),
    dutyLimit: asRead(option.dutyLimit),
    burstMultiple: asRead(rules.burstMultiple),
    flown: flownTemplate(rules.flown),
    groundTime: asRead(rules.groundTime),
    partDutyPowerFactor: asRead(partDutyTerm),
  };
}

/** Shares as parts of their sum: they are given to 10 % each, and still make one whole flight. */
function flownTemplate(flown: Build['rules']['flown']): Template<Craft['flown']> {
  return flown.map(({ share, hoverMultiple }) => ({
    share: (read) => read(share) / flown.reduce((sum, phase) => sum + read(phase.share), 0),
    hoverMultiple: asRead(hoverMultiple),
  }));
}

function airOf(build: Build, read: (figure: Figure) => number) {
  const { altitude, airTemperature, humidity } = build.rules;
  return airAt({
    altitude: read(altitude),
    temperature: read(airTemperature),
    ...(humidity && { relativeHumidity: read(humidity) }),
  });
}

/** Without the boards that drive no motor, such as a flight controller of its own. */
export const drivingAmong = (boards: readonly Use[]): readonly Use[] =>
  boards.filter(({ part }) => part.declared('channels')?.value !== 0);

/** Boards in the order of the rotor lines; the last one drives what is left. */
export function boardOf(boards: readonly Use[], line: number): Part | undefined {
  const driving = drivingAmong(boards);
  return driving[Math.min(line, driving.length - 1)]?.part;
}

/** What is the same on several lines is one object, so that it is moved as one. */
interface Made {
  readonly line: RotorLine;
  readonly board: Part | undefined;
  readonly template: Template<RotorGroup>;
}

const isLike = ({ line, board }: Made, other: RotorLine, otherBoard: Part | undefined): boolean =>
  line.motor === other.motor &&
  line.propeller === other.propeller &&
  line.position === other.position &&
  board === otherBoard;

function rotorTemplate(
  build: Build,
  line: RotorLine,
  board: Part | undefined,
  made: Made[],
  lack: Lack,
): Template<RotorGroup> | undefined {
  const like = made.find((one) => isLike(one, line, board));
  const template = like ? { ...like.template, count: line.count.value } : newRotorTemplate(build, line, board, lack);
  if (template && !like) made.push({ line, board, template });
  return template;
}

function newRotorTemplate(
  build: Build,
  line: RotorLine,
  board: Part | undefined,
  lack: Lack,
): Template<RotorGroup> | undefined {
  const { count, motor, position } = line;
  const motorNumbers = motorTemplate(motor, lack);
  const propellerNumbers = propellerTemplate(build, line, lack);
  const esc = board && escTemplate(board, lack);
  if (!motorNumbers || !propellerNumbers || !esc) return undefined;
  const gain = build.airframe?.part.figure('duct_gain');
  return {
    count: count.value,
    motor: motorNumbers,
    propeller: propellerNumbers,
    esc,
    thrustGain: gain ? (read) => 1 + read(gain) : 1,
    coaxialFactor: position === 'single' ? 1 : asRead(coaxialPairOf(build)),
  };
}

/** As the airframe states it; else the model's own. */
export const coaxialPairOf = ({ airframe }: Build): Figure =>
  airframe?.part.declared('coaxial') ?? modelForm.STACKED_PAIR;

function propellerTemplate(build: Build, line: RotorLine, lack: Lack): Template<Propeller> | undefined {
  const { propeller } = line;
  const diameter = lack.figure(propeller, 'diameter');
  const thrust = lack.figure(propeller, 'thrust_coefficient');
  const power = lack.figure(propeller, 'power_coefficient');
  if (!diameter || !thrust || !power) return undefined;
  return {
    diameter: asRead(diameter),
    thrustCoefficient: asRead(thrust),
    powerCoefficient: asRead(power),
    course: courseTemplate(build, propeller, diameter),
  };
}

/** A board's own draw with all its channels, A. */
function escStandby({ part }: Use, read: (figure: Figure) => number): number {
  const idle = part.figure('standby_current');
  return idle ? read(idle) : 0;
}

/** The burst rating of the weakest board: `burst`, or an unlabelled maximum. */
export function weakestBurst(boards: readonly Use[]): Figure | undefined {
  return drivingAmong(boards)
    .map(({ part }) => part.declared('burst') ?? part.declared('max') ?? part.figure('burst'))
    .filter((figure) => figure !== undefined)
    .sort((a, b) => a.value - b.value)[0];
}

// ---- rails and loads ----

const RAIL_TYPES: ReadonlySet<string> = new Set<Rail['type']>(['buck', 'boost', 'buck_boost', 'linear']);

function railTypeOf(rail: Part): Rail['type'] {
  const word = rail.word('type');
  return word !== undefined && RAIL_TYPES.has(word) ? (word as Rail['type']) : 'buck';
}

function sourceOf(feed: Feed, rails: readonly RailUse[]): Source {
  const index = 'rail' in feed ? rails.indexOf(feed.rail) : -1;
  return index < 0 ? 'bus' : index;
}

function railTemplates(build: Build, lack: Lack): Template<Rail>[] {
  return build.rails.map(({ part, from }) => {
    const output = lack.figure(part, 'output');
    const dropout = part.figure('dropout');
    const efficiency = part.figure('efficiency');
    const idle = part.figure('standby_current');
    return {
      from: sourceOf(from, build.rails),
      type: railTypeOf(part),
      output: output ? asRead(output) : 0,
      dropout: dropout ? asRead(dropout) : 0,
      efficiency: efficiency ? asRead(efficiency) : 1,
      standbyCurrent: idle ? asRead(idle) : 0,
    };
  });
}

/** What a load takes at rest and in hover, and in a burst and at full duty. */
export function drawOf(load: Part): Partial<Record<LoadLevel, Figure>> {
  const draw = load.figure('draw');
  const peak = load.figure('peak') ?? draw;
  return { ...(draw && { draw }), ...(peak && { peak }) };
}

/** A load whose draw is not known draws nothing; that a figure is missing is a finding of the text. */
function loadTemplate({ part, count, from }: LoadUse, rails: readonly RailUse[]): Template<Load> {
  const { draw, peak } = drawOf(part);
  const supply = part.range('supply');
  return {
    from: sourceOf(from, rails),
    kind: draw && !equal(draw.dimension, POWER) ? 'current' : 'power',
    draw: draw ? (read) => count * read(draw) : 0,
    peak: peak ? (read) => count * read(peak) : 0,
    ...(supply && { minimumVoltage: supply.low }),
  };
}
