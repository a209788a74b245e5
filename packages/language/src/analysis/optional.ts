/**
 * Figures that nobody has unless they looked: drag area, heat path, mounts, positions. What hangs on them stays silent until
 * they are declared; here they become numbers of the setup.
 */
import type { Build, Figure, LoadUse, PackOption, Part, Use } from '../model/build.ts';
import { STANDARD_GRAVITY } from '../physics/air.ts';
import { resonanceFrequency } from '../physics/vibration.ts';
import type { HeatSetup, MountSetup, Setup, WindSetup } from './setup.ts';
import type { Formula, Template } from './template.ts';

/** Ducts bring all the air they swallow to rest sideways, open rotors about a quarter of it (common practice). */
const MOMENTUM_SHARE = { ducted: 1, open: 0.25 };
/** Wake over disc area (momentum theory). */
const WAKE_EXPANSION = { ducted: 1, open: 0.5 };
/** How far a craft leans to hold its place, rad: common practice. */
const USUAL_TILT = (45 * Math.PI) / 180;

type OptionalSetup = Pick<Setup, 'wind' | 'heat' | 'mount' | 'balanceMoment'>;

export function optionalTemplates(build: Build, option: PackOption): Template<OptionalSetup> {
  const wind = windTemplate(build);
  const mount = mountTemplate(build.loads);
  const balanceMoment = momentFormula(build, option);
  return {
    ...(wind && { wind }),
    heat: build.rotors.map(({ motor }) => heatTemplate(motor)),
    ...(mount && { mount }),
    ...(balanceMoment && { balanceMoment }),
  } as Template<OptionalSetup>;
}

function windTemplate({ airframe, rules }: Build): Template<WindSetup> | undefined {
  const dragArea = airframe?.part.figure('drag_area');
  if (!airframe || !dragArea) return undefined;
  const kind = airframe.part.declared('guard') ? 'ducted' : 'open';
  const { tilt } = rules;
  return {
    dragArea: (read) => read(dragArea),
    momentumShare: MOMENTUM_SHARE[kind],
    wakeExpansion: WAKE_EXPANSION[kind],
    tiltLimit: tilt ? (read) => read(tilt) : USUAL_TILT,
  };
}

function heatTemplate(motor: Part): Template<HeatSetup> | undefined {
  const heatPath = motor.figure('heat_path');
  const resistance = motor.figure('resistance');
  if (!heatPath || !resistance) return undefined;
  return { thermalResistance: (read) => read(heatPath), coldResistance: (read) => read(resistance) };
}

/** A load on a mount whose frequency is known: by a tap test, by how far it gives under its load, or by stiffness and mass. */
export interface Mounted {
  readonly load: LoadUse;
  readonly mount: Part;
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

function mountFrequency(mount: Part, { part, count }: LoadUse): { frequency: Formula; nominal: number } | undefined {
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

/** Mass times distance ahead of the rotors' middle, kg m; what says no position sits in the middle. */
function momentFormula(build: Build, option: PackOption): Formula | undefined {
  const { airframe, escs, regulators, loads, items, leads, mounts } = build;
  const uses: readonly Use[] = [
    ...(airframe ? [airframe] : []),
    ...escs,
    ...regulators,
    ...loads,
    ...items,
    ...leads,
    ...mounts,
  ];
  const placed: { count: number; mass: Figure; position: Figure }[] = [];
  for (const { part, count, position } of [...uses, option]) {
    const mass = part.figure('mass');
    if (position && mass) placed.push({ count, mass, position });
  }
  if (placed.length === 0) return undefined;
  return (read) => placed.reduce((sum, { count, mass, position }) => sum + count * read(mass) * read(position), 0);
}
