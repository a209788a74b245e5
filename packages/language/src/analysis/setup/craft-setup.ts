/**
 * From a build and one of its pack options to the numbers that the physics takes: which figure becomes which number, and by
 * what formula. A figure that is missing leaves its part of the setup out, with the reason in words; the rest still computes.
 */
import type { Build, Figure, PackOption, Part, RotorLine, Use } from '../../model/build.ts';
import { airAt } from '../../physics/air.ts';
import { restingVoltage } from '../../physics/chemistry.ts';
import type { Craft, RotorGroup } from '../../physics/craft.ts';
import * as modelForm from '../uncertainty/model-form.ts';
import { fullDutyOf } from './basis.ts';
import { asRead, escTemplate, Lack, motorTemplate, propellerTemplate } from './drive.ts';
import { dryMassOf } from './mass.ts';
import { optionalTemplates } from './optional.ts';
import { type PackTemplate, packTemplate, reserveOf } from './pack-setup.ts';
import { loadTemplate, railTemplates } from './rail-setup.ts';
import type { Setup } from './setup.ts';
import type { Formula, Template } from './template.ts';

export interface SetupTemplate {
  readonly template: Template<Setup>;
  /** The model's own term on part-duty power. */
  readonly partDuty: Figure;
  /** Why a part of the setup is left out, in words; the first reason that applies. */
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
  const masses = { dry: dryMassOf(build, option), pack: option.part.figure('mass') };
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
      ...optionalTemplates(build, option, typeof mass === 'function' ? mass : undefined),
      fullDutyFactor: asRead(fullDutyOf(build)),
    },
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
  if (build.rotors.length === 0) lack.because('the build has no motors');
  if (drivingAmong(build.escs).length === 0)
    lack.because(build.escs.length === 0 ? 'the build has no esc' : 'the build has no esc with channels');
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
export const drivingAmong = (boards: readonly Use<'esc'>[]): readonly Use<'esc'>[] =>
  boards.filter(({ part }) => part.declared('channels')?.value !== 0);

/** Boards in the order of the rotor lines; the last one drives what is left. */
export function boardOf(boards: readonly Use<'esc'>[], line: number): Part<'esc'> | undefined {
  const driving = drivingAmong(boards);
  return driving[Math.min(line, driving.length - 1)]?.part;
}

/** What is the same on several lines is one object, so that it is moved as one. */
interface Made {
  readonly line: RotorLine;
  readonly board: Part<'esc'> | undefined;
  readonly template: Template<RotorGroup>;
}

const isLike = ({ line, board }: Made, other: RotorLine, otherBoard: Part<'esc'> | undefined): boolean =>
  line.motor === other.motor &&
  line.propeller === other.propeller &&
  line.position === other.position &&
  board === otherBoard;

function rotorTemplate(
  build: Build,
  line: RotorLine,
  board: Part<'esc'> | undefined,
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
  board: Part<'esc'> | undefined,
  lack: Lack,
): Template<RotorGroup> | undefined {
  const { count, motor, position } = line;
  const motorNumbers = motorTemplate(motor, lack);
  const propellerNumbers = propellerTemplate(build, line.propeller, lack);
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

/** A board's own draw with all its channels, A. */
function escStandby({ part }: Use, read: (figure: Figure) => number): number {
  const idle = part.figure('standby_current');
  return idle ? read(idle) : 0;
}

/** The burst rating of the weakest board: `burst`, or an unlabelled maximum. */
export function weakestBurst(boards: readonly Use<'esc'>[]): Figure | undefined {
  return drivingAmong(boards)
    .map(({ part }) => part.declared('burst') ?? part.declared('max') ?? part.figure('burst'))
    .filter((figure) => figure !== undefined)
    .sort((a, b) => a.value - b.value)[0];
}
