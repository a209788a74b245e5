/**
 * What measurements teach a build: all lines about it go through one fit, so that each counts once. The formulation, its numbers and their
 * standing are on the reference page `learning.md`.
 */

import { isAbout } from '../../model/benches.ts';
import type { Bench, Build, Figure, PackOption } from '../../model/build.ts';
import { isSamePart } from '../../model/identities.ts';
import type { Learnt } from '../assessment.ts';
import { fullDutyOf } from '../setup/basis.ts';
import type { SetupTemplate } from '../setup/craft-setup.ts';
import { massOf } from '../setup/mass.ts';
import type { Setup } from '../setup/setup.ts';
import type { Formula, Template } from '../setup/template.ts';
import { sinceThen } from './ageing.ts';
import { fitOf } from './fit.ts';
import { packsObserved } from './observed-lines.ts';
import type { AnyScene } from './scene.ts';
import { type Screened, type SetAside, screenedFlight, screenedLog, screenedStand } from './set-aside.ts';
import { standScene } from './stand-lines.ts';
import { type BenchRow, coefficientsOfRow, faultOf } from './stand-rows.ts';

/** How the numbers of a build with an option arise from its figures. */
export type TemplateOf = (build: Build, option: PackOption) => SetupTemplate;

/** Builds that are to be computed as if nothing had been measured on them. */
const unlearning = new WeakMap<Build, Build>();
const unlearnt = new WeakSet<Build>();

const unobserved = new WeakMap<Build, Build>();

/** The build as its parts' own figures have it, no scale read either. */
export function beforeObserving(build: Build): Build {
  const known = unobserved.get(build) ?? { ...build, observations: [] };
  unobserved.set(build, known);
  unlearnt.add(known);
  return known;
}

/** The build before anything was learnt; the same object each time, so that it is assessed once. */
export function beforeLearning(build: Build): Build {
  const known = unlearning.get(build) ?? { ...build };
  unlearning.set(build, known);
  unlearnt.add(known);
  return known;
}

/** Builds that differ from another one in nothing that measurements are about: in a duty limit, or in what is required. */
const alike = new WeakMap<Build, Build>();

/** Whatever is learnt of one is what is learnt of the other: it is then fitted once. */
export function learnsAs(build: Build, other: Build): void {
  alike.set(build, other);
}

const known = new WeakMap<Build, Learnt | undefined>();

/** Undefined where nothing that was measured counts. */
export function learntOf(build: Build, templateOf: TemplateOf): Learnt | undefined {
  if (unlearnt.has(build)) return undefined;
  const other = alike.get(build);
  if (other) return learntOf(other, templateOf);
  if (!known.has(build)) known.set(build, learn(measuredOf(build, templateOf).scenes));
  return known.get(build);
}

export interface MeasuredScenes {
  readonly scenes: readonly AnyScene[];
  /** What cannot be: nothing is learnt from it. */
  readonly aside: readonly SetAside[];
}

const measured = new WeakMap<Build, MeasuredScenes>();

/** All that was measured about a build. */
export function measuredOf(build: Build, templateOf: TemplateOf): MeasuredScenes {
  const found = measured.get(build) ?? screened(build, templateOf);
  measured.set(build, found);
  return found;
}

function screened(build: Build, templateOf: TemplateOf): MeasuredScenes {
  // Of a craft whose weight is not known yet, since a line is half typed, nothing predicts what was measured.
  const all = [build, ...build.kin().map((kin) => kin.build)]
    .flatMap(packsObserved)
    .filter((seen) => massOf(seen.build, seen.option) !== undefined);
  const flights = all.flatMap((seen): Screened[] => {
    const then = sinceThen(seen, all);
    const observed = then ? { ...seen, then } : seen;
    const template = asItWas(templateOf(observed.build, observed.option).template, then);
    const flight = screenedFlight(observed, template);
    return [flight, ...(observed.observation.log ? [screenedLog(observed, template, flight.isLeft)] : [])];
  });
  const found = [...flights, ...standsOf(build, templateOf)];
  return {
    scenes: found.flatMap(({ scene }) => scene ?? []),
    aside: found.flatMap(({ aside }) => aside),
  };
}

/** What was set aside of that. */
export function setAsideOf(build: Build, templateOf: TemplateOf): readonly SetAside[] {
  if (unlearnt.has(build)) return [];
  return measuredOf(alike.get(build) ?? build, templateOf).aside;
}

/** With the pack as it was on that day. */
function asItWas(template: Template<Setup>, then: Figure | undefined): Template<Setup> {
  const { craft } = template;
  if (!then || !craft) return template;
  const today = craft.pack.positionResistance;
  const positionResistance: Formula = (read) => (typeof today === 'number' ? today : today(read)) * read(then);
  return { ...template, craft: { ...craft, pack: { ...craft.pack, positionResistance } } };
}

function standsOf(build: Build, templateOf: TemplateOf): Screened[] {
  const [option] = build.packs;
  const benches = build.benches.filter((bench) => isOfUse(build, bench));
  if (benches.length === 0) return [];
  if (!option) return [];
  const { partDuty } = templateOf(build, option);
  return benches.map((bench) => {
    const diameter = bench.part.part('propeller')?.figure('diameter');
    const inDuct = bench.part.part('airframe') !== undefined;
    const isCounted = (row: BenchRow) => {
      const coefficients = diameter && coefficientsOfRow(row, diameter);
      return !coefficients || faultOf(row, coefficients, inDuct) === undefined;
    };
    const terms = { partDuty, fullDuty: fullDutyOf(build) };
    return screenedStand((isLeft) => standScene(build, bench, isCounted, terms, isLeft));
  });
}

/** A stand in another craft's ducts is little evidence about this one. */
function isOfUse({ rotors, airframe }: Build, bench: Bench): boolean {
  const duct = bench.part.part('airframe');
  if (duct && !(airframe && isSamePart(airframe.part, duct))) return false;
  return rotors.some(({ propeller }) => isAbout(bench, propeller));
}

/** Fits by the text of all that they depend on: an edit elsewhere in a file makes new objects with the same numbers. */
const kept = new Map<string, Learnt | undefined>();
const MOST_KEPT = 256;

function learn(scenes: readonly AnyScene[]): Learnt | undefined {
  if (scenes.length === 0) return undefined;
  const content = scenes.map((scene) => scene.content()).join('\n');
  const found = kept.get(content);
  if (found) return inPlace(found, scenes);
  const learnt = fitOf(scenes);
  if (kept.size >= MOST_KEPT) kept.delete(kept.keys().next().value ?? '');
  kept.set(content, learnt);
  return learnt;
}

/** The same of objects made anew: an edit moves places, not numbers. */
function inPlace(learnt: Learnt, scenes: readonly AnyScene[]): Learnt {
  const lines = scenes.flatMap((scene) => scene.lines);
  const figures = new Map(scenes.flatMap((scene) => scene.inputs()).map((one) => [one.id, one]));
  return {
    ...learnt,
    figures: learnt.figures.map((figure) => figures.get(figure.id) ?? figure),
    lines: learnt.lines.map((line, i) => ({ ...line, ...lines[i] })),
    powers: learnt.powers.map((power) => ({
      ...power,
      line: lines.find(({ label, source }) => label === power.line.label && source === power.line.source) ?? power.line,
    })),
  };
}
