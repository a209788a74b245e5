/** The pack of an option and the leads from it to the bus, as the numbers that the physics takes. */

import type { Build, Figure, PackOption, Part } from '../../model/build.ts';
import { coldFactor, wornFactor } from '../../physics/chemistry.ts';
import type { Chemistry, Pack } from '../../physics/craft.ts';
import { leadPairResistance } from '../../physics/lead.ts';
import * as modelForm from '../uncertainty/model-form.ts';
import { asRead, type Lack } from './drive.ts';
import { LEAD_TEMPERATURE } from './leads.ts';
import type { Formula, Template } from './template.ts';

const CHEMISTRIES: readonly Chemistry[] = ['lipo', 'lihv', 'liion'];

export function chemistryOf(pack: Part<'pack'>): Chemistry {
  const word = pack.word('chemistry');
  return CHEMISTRIES.find((chemistry) => chemistry === word) ?? 'lipo';
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
export function wornBy(pack: Part<'pack'>): Formula {
  const cycles = pack.figure('cycles');
  return (read) => (cycles ? wornFactor(read(cycles)) : 1);
}

/** The same by its temperature: a charger's figure is that at the temperature behind it, else at that of a room. */
export function coldBy(pack: Part<'pack'>): Formula {
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

/** An estimated resistance has a part that packs have in common, so that what is learnt of one pack counts for the others. */
export function cellResistanceOf(figure: Figure): { readonly own: Figure; readonly shared: Figure | undefined } {
  if (figure.origin !== 'estimated') return { own: figure, shared: undefined };
  const shared = modelForm.PACK_RESISTANCE;
  const relative = figure.standardUncertainty / figure.value;
  const rest = Math.sqrt(Math.max(OWN_RESISTANCE ** 2, relative ** 2 - shared.standardUncertainty ** 2));
  return { own: { ...figure, standardUncertainty: rest * figure.value }, shared };
}

/** Cells and chemistry are known outright. */
export type PackTemplate = Template<Pack> & Pick<Pack, 'cellsInSeries' | 'chemistry'>;

export function packTemplate(build: Build, option: PackOption, reserve: Formula, lack: Lack): PackTemplate | undefined {
  const { part } = option;
  const cells = part.cells('cells');
  const inSeries = cellsInSeries(option);
  if (!cells) lack.because(`the cells of ${part.name} are not known`);
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
    restingOffset: asRead(modelForm.restingVoltageOffset(chemistryOf(part))),
    chargeOffset: asRead(modelForm.CHARGED_VOLTAGE),
    resistanceGrowthShare: asRead(modelForm.RESISTANCE_GROWTH),
    reserve,
  };
}

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

/** Both cores of a lead, by its copper. */
function pairResistance(lead: Part<'lead'>): Formula | undefined {
  const area = lead.figure('wire');
  const length = lead.figure('length');
  return area && length ? (read) => leadPairResistance(read(area), read(length), LEAD_TEMPERATURE) : undefined;
}
