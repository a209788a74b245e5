/**
 * Figures that nobody has unless they looked: drag area, thermal resistance, mounts, positions. What depends on them stays silent until
 * they are declared; here they become numbers of the setup.
 */
import type { Build, Figure, Flight, Leg, LoadUse, PackOption, Part, Released, Use } from '../../model/build.ts';
import { fittedSlots } from '../../model/slots.ts';
import { STANDARD_GRAVITY } from '../../physics/air.ts';
import type { Release } from '../../physics/flown-leg.ts';
import { resonanceFrequency } from '../../physics/vibration.ts';
import type { HeatPath } from '../../physics/windings.ts';
import { isSameStart } from '../../syntax/place.ts';
import { estimatedDragArea, INDUCED_FACTOR, LEVEL_FLIGHT } from '../uncertainty/model-form.ts';
import type { BalanceSetup, FlightsSetup, MountSetup, Setup, WindSetup } from './setup.ts';
import type { Formula, Template } from './template.ts';

/** Ducts bring all the air that they take in to rest sideways, open rotors about a quarter of it (common practice). */
const MOMENTUM_SHARE = { ducted: 1, open: 0.25 };
/** Wake over disc area (momentum theory). */
const WAKE_EXPANSION = { ducted: 1, open: 0.5 };
/** How far a craft tilts to keep its position, rad: common practice. */
const USUAL_TILT = (45 * Math.PI) / 180;

type OptionalSetup = Pick<Setup, 'wind' | 'flights' | 'heat' | 'mount' | 'balance'>;

/** @param mass of it all, where it is known */
export function optionalTemplates(build: Build, option: PackOption, mass?: Formula): Template<OptionalSetup> {
  const flights = flightsOn(build, option);
  const dragArea = dragAreaOf(build, flights, mass);
  const air = windTemplate(build, dragArea);
  const wind = dragArea && air;
  const mount = mountTemplate(build.loads);
  const balance = balanceTemplate(build, option);
  const heat = new Map(build.rotors.map(({ motor }) => [motor, heatTemplate(motor)]));
  return {
    ...(wind && { wind }),
    ...(flights.length > 0 && { flights: { air, plans: flights.map((flight) => planTemplate(flight, build)) } }),
    heat: build.rotors.map(({ motor }) => heat.get(motor)),
    ...(mount && { mount }),
    ...(balance && { balance }),
  };
}

/** Those it makes on a pack. */
export function flightsOn({ flights }: Build, { name: option }: PackOption): Flight[] {
  const flown = flights.filter(({ pack }) => pack === undefined || pack === option);
  return flown.filter(({ name }, i) => flown.findIndex((other) => other.name === name) === i);
}

/** As the airframe states it; estimated where a leg of a flight depends on it, and no figure otherwise. */
export function dragAreaOf(build: Build, flights: readonly Flight[], mass?: Formula): Figure | undefined {
  const declared = build.airframe?.part.figure('drag_area');
  const isNeeded = flights.some(({ legs }) => legs.some(meetsAir));
  return declared ?? (isNeeded && mass ? estimatedDragArea(build, mass) : undefined);
}

const meetsAir = ({ manner, wind }: Leg): boolean => manner === 'cruise' || manner === 'home' || wind !== 0;

function windTemplate({ airframe, rules }: Build, dragArea: Figure | undefined): Template<WindSetup> {
  const kind = airframe?.part.declared('guard_diameter') ? 'ducted' : 'open';
  const { tilt } = rules;
  return {
    dragArea: dragArea ? (read) => read(dragArea) : 0,
    momentumShare: MOMENTUM_SHARE[kind],
    wakeExpansion: WAKE_EXPANSION[kind],
    tiltLimit: tilt ? (read) => read(tilt) : USUAL_TILT,
    inducedFactor: (read) => read(INDUCED_FACTOR),
    levelFlight: (read) => read(LEVEL_FLIGHT),
  };
}

function planTemplate({ legs }: Flight, build: Build): Template<FlightsSetup['plans'][number]> {
  const left = new Map<Use, number>();
  const template = legs.map(({ manner, time, distance, speed, wind, released }) => ({
    manner,
    ...(time !== undefined && { time }),
    ...(distance !== undefined && { distance }),
    ...(speed !== undefined && { speed }),
    wind,
    ...(released && { released: released.map((one) => releaseTemplate(one, build, left)) }),
  }));
  return { legs: template };
}

function releaseTemplate({ use, count }: Released, { loads, items }: Build, left: Map<Use, number>): Template<Release> {
  const onBoard = left.get(use) ?? use.count;
  left.set(use, onBoard - count);
  // In a copy of the build with other parts it is what that line fits there.
  const isMeant = ({ place }: Use) => isSameStart(place, use.place);
  const mass = ([...loads, ...items].find(isMeant) ?? use).part.figure('mass');
  const load = loads.findIndex(isMeant);
  return {
    mass: mass ? (read) => count * read(mass) : 0,
    ...(load >= 0 && { load }),
    share: count / onBoard,
  };
}

function heatTemplate(motor: Part<'motor'>): Template<HeatPath> | undefined {
  const thermalResistance = motor.figure('thermal_resistance');
  const resistance = motor.figure('resistance');
  if (!thermalResistance || !resistance) return undefined;
  return { thermalResistance: (read) => read(thermalResistance), coldResistance: (read) => read(resistance) };
}

/** A load on a mount whose frequency is known: by a tap test, by how far it gives under its load, or by stiffness and mass. */
export interface Mounted {
  readonly load: LoadUse;
  readonly mount: Part<'mount'>;
  readonly damping: Figure;
  readonly frequency: Formula;
  /** Hz */
  readonly nominal: number;
}

/** The load whose mount is softest, which follows the shaking of the rotors most. */
export function softestMount(loads: readonly LoadUse[]): Mounted | undefined {
  const mounted = loads.flatMap((load): Mounted[] => {
    const { mount } = load;
    const frequency = mount && mountFrequency(mount, load);
    const damping = mount?.figure('damping');
    return mount && frequency && damping ? [{ load, mount, damping, ...frequency }] : [];
  });
  return mounted.sort((a, b) => a.nominal - b.nominal)[0];
}

function mountTemplate(loads: readonly LoadUse[]): Template<MountSetup> | undefined {
  const softest = softestMount(loads);
  return softest && { frequency: softest.frequency, damping: (read) => read(softest.damping) };
}

function mountFrequency(
  mount: Part<'mount'>,
  { part, count }: LoadUse,
): { frequency: Formula; nominal: number } | undefined {
  const tapped = mount.figure('frequency');
  const sag = mount.figure('sag');
  const stiffness = mount.figure('stiffness');
  const mass = part.figure('mass');
  const formula: Formula | undefined = tapped
    ? (read) => read(tapped)
    : sag
      ? (read) => resonanceFrequency(STANDARD_GRAVITY / read(sag), 1)
      : stiffness && mass
        ? (read) => resonanceFrequency(read(stiffness), count * read(mass))
        : undefined;
  return formula && { frequency: formula, nominal: formula((figure) => figure.value) };
}

export interface PlacedMass {
  readonly count: number;
  readonly mass: Figure;
  readonly position: Figure;
}

/** All but the pack that states its position. */
export function placedMasses(build: Build): PlacedMass[] {
  return fittedSlots(build).flatMap(({ part, count, position }) => {
    const mass = part.figure('mass');
    return position && mass ? [{ count, mass, position }] : [];
  });
}

/** Undefined where nothing states its position. */
function balanceTemplate(build: Build, option: PackOption): Template<BalanceSetup> | undefined {
  const placed = placedMasses(build);
  const { position } = option;
  if (placed.length === 0 && !position) return undefined;
  const front = frontRotors(build);
  return {
    othersMoment: (read) => placed.reduce((sum, one) => sum + one.count * read(one.mass) * read(one.position), 0),
    packPosition: position ? (read) => read(position) : 0,
    ...(front && { frontRotors: front }),
  };
}

/** Four arms, evenly spaced, two of them ahead. */
function frontRotors({ airframe, rotors }: Build): Formula | undefined {
  const count = airframe?.part.declared('rotors')?.value ?? 0;
  const arms = rotors.some(({ position }) => position !== 'single') ? count / 2 : count;
  const wheelbase = airframe?.part.figure('wheelbase');
  return wheelbase && arms === 4 ? (read) => (read(wheelbase) / 2) * Math.SQRT1_2 : undefined;
}
