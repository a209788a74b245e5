/** The builds that a shortlist tries: every combination of its choices, as a build would state it. */

import type { LangiumDocument } from 'langium';
import { withDutyLimit } from '../analysis/decide/changed-craft.ts';
import { learnsAs } from '../analysis/learn/learn.ts';
import type { BuildOnPack } from '../analysis/limited-craft.ts';
import { readDocument } from '../checks/text/read-document.ts';
import type { PartNode } from '../grammar/generated/ast.ts';
import { teachingParts } from '../model/arrangements.ts';
import { assemble } from '../model/assemble-build.ts';
import { readBench } from '../model/bench-rows.ts';
import { benchesAbout } from '../model/benches.ts';
import type { Build, PackOption, Part } from '../model/build.ts';
import { partKey } from '../model/identities.ts';
import { ofKind } from '../model/of-kind.ts';
import { partOf } from '../model/parts.ts';
import { otherFlights, readShortlist, type Shortlist, type Varied } from '../model/shortlists.ts';
import { documentOf, type FileDocument } from '../syntax/nodes.ts';
import { type Place, startKey } from '../syntax/place.ts';
import type { Problem } from '../syntax/problem.ts';
import { placeOf } from '../syntax/source.ts';
import { formatValue } from '../units/print.ts';
import type { VariedKind } from '../vocabulary/kinds/shortlist-kind.ts';
import { either } from '../vocabulary/phrasing.ts';
import { type FigureName, propertyInWords } from '../vocabulary/properties.ts';
import { type Appended, textFor } from './candidate-texts.ts';
import { areIndependent, keepingMeasured } from './kept-figures.ts';
import { partOfKindNamed, type ReadingServices, type Trial, withAppended, withoutTrialMarks } from './trial.ts';
import { partNow, type TriedFigure, type Wanted } from './varied-parts.ts';

/** Why a shortlist cannot be tried. */
export class CannotChoose extends Error {}

/** One thing in place of another. */
export interface Choice {
  readonly axis: Axis['of'];
  /** In a few words: `Mast1350_4S`, `kv 2500 rpm/V`, `duty 80 %`. */
  readonly label: string;
  /** As a build would write it; none for a part that does not exist. */
  readonly written?: string;
  readonly part?: Part;
  readonly option?: PackOption;
  readonly duty?: number;
  /** A whole build with that board. */
  readonly build?: Build;
}

interface Axis {
  readonly of: VariedKind | 'duty';
  readonly choices: readonly Choice[];
}

export interface Space {
  readonly shortlist: Shortlist;
  /** As it is today, and the same with every pack that is tried. */
  readonly today: Build;
  readonly axes: readonly Axis[];
  readonly count: number;
  /** Duty limits that are tried; those of one craft on one pack come one after the other. None where that of today is kept. */
  readonly limits: readonly number[];
  /** What was left out, in sentences. */
  readonly notes: readonly string[];
  /** Addresses of all files that were read: as long as they stay, so does what is found. */
  readonly files: ReadonlySet<string>;
  candidate(index: number): Candidate;
}

export interface Candidate {
  readonly index: number;
  /** The same object for all duty limits of one craft on one pack; what the shortlist requires is required of it. */
  readonly craft: BuildOnPack;
  /** Of the craft, under the duty limit that is tried. */
  readonly option: PackOption;
  readonly choices: readonly Choice[];
  /** The craft on that option. */
  readonly build: Build;
}

/** More combinations than anybody waits for: steps are widened, and that is reported. Ours. */
const MOST_CANDIDATES = 100_000;
/** Parts are never left out: of them as many times more are tried, with patience. */
const MOST_TIMES = 10;
/** Parts that exist in no file are read as text: a thousand of a kind within a second or two. */
const MOST_MADE = 1000;

/** @param most combinations to be tried */
export async function spaceOf(
  services: ReadingServices,
  document: FileDocument,
  node: PartNode,
  most = MOST_CANDIDATES,
): Promise<Space> {
  const shortlist = readShortlist(node);
  const { build: base } = shortlist;
  if (!base) throw new CannotChoose(`${shortlist.name} names no build: \`for: NAME\``);
  const wrong = shortlist.vary.find((line) => line.wrong)?.wrong;
  if (wrong) throw new CannotChoose(wrong.message);
  const varied = shortlist.vary.flatMap((line) => line.varied ?? []);
  if (varied.length < shortlist.vary.length)
    throw new CannotChoose(`a line in ${shortlist.name} cannot be read: fettle check reports which`);
  if (varied.length === 0) throw new CannotChoose(`${shortlist.name} varies nothing yet: \`vary: pack in "../parts"\``);
  if (shortlist.prefer.length === 0)
    throw new CannotChoose(`${shortlist.name} prefers nothing yet: \`prefer: hover_time\``);
  refuseBroken(base);
  const [other] = otherFlights(shortlist);
  if (other) throw new CannotChoose(other.message);
  const { axes: thinned, notes } = thin(varied, most, shortlist.name);
  const appended = textFor(base, thinned);
  const trial = await withAppended(services, document, appended.text);
  const built = builtFrom(trial, appended, base, shortlist.requirements);
  const { LangiumDocuments } = trial.services.shared.workspace;
  const files = new Set([...LangiumDocuments.all].map(({ uri }) => uri.toString()));
  return { shortlist, ...built, notes: [...notes, ...forgottenWords(built.today, thinned)], files };
}

/** Candidates of a build that is not read in full would be judged without what is missing. */
function refuseBroken(base: PartNode): void {
  const document = documentOf(base);
  if (!document || assemble(base).build.holes.size === 0) return;
  const { start, end } = placeOf(base);
  const { problems, elsewhere } = readDocument(document);
  const [wrong] = [...problems.filter(({ place }) => place.start >= start && place.start < end), ...elsewhere];
  const reason = wrong ? `: line ${lineOf(document, wrong)}: ${withoutTrialMarks(wrong.message)}` : '';
  throw new CannotChoose(`${base.name} cannot be read in full, so that its candidates cannot be judged${reason}`);
}

function lineOf(document: LangiumDocument, { place }: Problem): string {
  if (place.uri !== document.uri.toString()) return `in ${place.uri.slice(place.uri.lastIndexOf('/') + 1)}`;
  return String(document.textDocument.positionAt(place.start).line + 1);
}

/** The kind of which most parts are made of figures: how many, and the words of these figures. */
function mostMade({ parts, figures }: Wanted): { readonly count: number; readonly figures: readonly string[] } {
  const made = new Map<VariedKind, { count: number; figures: string[] }>();
  for (const [words, { figure, values }] of figures) {
    if (figure === 'duty') continue;
    const before = made.get(figure.kind) ?? { count: Math.max(1, parts.get(figure.kind)?.length ?? 1), figures: [] };
    made.set(figure.kind, { count: before.count * values.length, figures: [...before.figures, words] });
  }
  const [most] = [...made.values()].sort((a, b) => b.count - a.count);
  return most ?? { count: 0, figures: [] };
}

/** What all lines try together, each part once. */
function wantedBy(varied: readonly Varied[]) {
  const parts = new Map<VariedKind, { node: PartNode; written: string }[]>();
  const figures = new Map<string, TriedFigure>();
  for (const one of varied) {
    if (one.of === 'figure') figures.set(one.words, one);
    else {
      const known = parts.get(one.kind) ?? [];
      const written = new Set(known.map((part) => part.written));
      parts.set(one.kind, [...known, ...one.parts.filter((part) => !written.has(part.written))]);
    }
  }
  return { parts, figures };
}

function thin(varied: readonly Varied[], most: number, name: string): { axes: Wanted; notes: string[] } {
  const axes = wantedBy(varied);
  const { parts, figures } = axes;
  const count = () =>
    [
      ...[...parts.values()].map((all) => all.length),
      ...[...figures.values()].map(({ values }) => values.length),
    ].reduce((product, size) => product * Math.max(1, size), 1);
  const all = count();
  /** The longest of some ranges with every other value left out; false where none is long enough. */
  const halve = (among: readonly string[]): boolean => {
    const [widest] = [...figures]
      .filter(([words, { values }]) => among.includes(words) && values.length >= 3)
      .sort(([, a], [, b]) => b.values.length - a.values.length);
    if (!widest) return false;
    const [words, range] = widest;
    const { values } = range;
    figures.set(words, { ...range, values: values.filter((_, i) => i % 2 === 0 || i === values.length - 1) });
    return true;
  };
  for (let made = mostMade(axes); made.count > MOST_MADE; made = mostMade(axes))
    if (!halve(made.figures))
      throw new CannotChoose(`${name} tries ${made.count} parts that do not exist, more than ${MOST_MADE}: name fewer`);
  const isOfTooManyParts = count() > most;
  while (count() > most && halve([...figures.keys()]));
  if (count() > MOST_TIMES * most)
    throw new CannotChoose(`${all} combinations of ${name} are more than ${MOST_TIMES * most}: name fewer parts`);
  const reason = isOfTooManyParts
    ? `${all} combinations are more than ${most}`
    : `More than ${MOST_MADE} parts that do not exist take too long to make`;
  const notes = [...wantedBy(varied).figures].flatMap(([words, { values }]) => {
    const kept = figures.get(words)?.values.length ?? 0;
    if (kept === values.length) return [];
    return [`${reason}: of ${words} ${kept} of ${values.length} values were tried, evenly spread.`];
  });
  return { axes, notes };
}

const propertiesVaried = (figures: Wanted['figures'], kind: VariedKind): FigureName[] =>
  [...figures.values()].flatMap(({ figure }) => (figure !== 'duty' && figure.kind === kind ? figure.property : []));

/** What was measured of a motor or a propeller is not of one that spins or pushes otherwise: its ± is wider than today’s. */
function forgottenWords({ benches, observations, rotors }: Build, { figures }: Wanted): string[] {
  if (benches.length + observations.length === 0) return [];
  return (['motor', 'propeller'] as const).flatMap((kind) => {
    const changed = propertiesVaried(figures, kind);
    if (areIndependent(changed)) return [];
    const names = [...new Set(rotors.map((line) => line[kind].name))].join(', ');
    return [
      `What was measured of ${names} does not count for a ${kind} of another ${either(changed.map(propertyInWords))}: its ± is that of an estimate.`,
    ];
  });
}

function builtFrom(
  { document, services }: Trial,
  { wanted, made, boards }: Appended,
  base: PartNode,
  requirements: Shortlist['requirements'],
): Omit<Space, 'shortlist' | 'notes' | 'files'> {
  const nodes = boards.map(({ name }) => partOfKindNamed(document, 'build', name)).filter((node) => node !== undefined);
  const builds = nodes.map((node) => assemble(node).build);
  const [[first], [variant]] = [nodes, builds];
  if (!first || !variant) throw new Error(`${base.name} was not read again`);
  /** As the variants see it: what was observed of a part is known by the part. */
  const here = (node: PartNode): PartNode => {
    const home = documentOf(node);
    const again = home && services.shared.workspace.LangiumDocuments.getDocument(home.uri);
    return (again && partOfKindNamed(again, node.kind, node.name ?? '')) ?? node;
  };
  const partsOf = (kind: 'motor' | 'propeller' | 'airframe'): Choice[] | undefined => {
    const variants = made.get(kind);
    const changed = propertiesVaried(wanted.figures, kind);
    if (variants)
      return variants.flatMap(({ name, of, label }) => {
        const node = partOfKindNamed(document, kind, name);
        if (!node) return [];
        const requested = wanted.parts.get(kind)?.find((one) => one.node.name === of);
        const base = requested ? partOf(here(requested.node)) : partNow(kind, of, variant);
        const part = keepingMeasured(partOf(node), base, changed);
        return [{ axis: kind, label: wanted.parts.has(kind) ? `${of} · ${label}` : label, part }];
      });
    return wanted.parts
      .get(kind)
      ?.map(({ node, written }): Choice => ({ axis: kind, label: written, written, part: partOf(here(node)) }));
  };
  const axes: Axis[] = [];
  const add = (of: Axis['of'], choices: readonly Choice[] | undefined) => {
    if (choices && choices.length > 0) axes.push({ of, choices });
  };
  if (wanted.parts.has('esc') || made.has('esc'))
    add(
      'esc',
      boards.map(
        ({ written, label }, i): Choice => ({
          axis: 'esc',
          label,
          ...(!made.has('esc') && { written }),
          ...(builds[i] && { build: builds[i] }),
        }),
      ),
    );
  add('airframe', partsOf('airframe'));
  add('motor', partsOf('motor'));
  add('propeller', partsOf('propeller'));
  const packs = variant?.packs ?? [];
  if (wanted.parts.has('pack') || made.has('pack')) add('pack', packChoices(packs, wanted, made.get('pack')));
  const duty = wanted.figures.get('duty');
  add(
    'duty',
    duty?.values.map(
      (value): Choice => ({
        axis: 'duty',
        label: `duty ${formatValue(value, '%')}`,
        written: formatValue(value, '%'),
        duty: value,
      }),
    ),
  );
  const count = axes.reduce((product, { choices }) => product * choices.length, 1);
  const today = assemble(base).build;
  const composed = composer([first, base], variant, today, requirements);
  return { today, axes, count, limits: duty?.values ?? [], candidate: (index) => composed(index, axes) };
}

function packChoices(
  packs: readonly PackOption[],
  { parts }: Wanted,
  made: readonly { name: string; of: string; label: string }[] | undefined,
): Choice[] {
  const requested = parts.get('pack') ?? [];
  // One that cannot be read is no option; by its place a pack keeps its arrangement: `2 x Mast in series` has the name Mast.
  const areAll = requested.length === packs.length;
  return packs.map((option, i): Choice => {
    const variant = made?.[i];
    if (variant)
      return { axis: 'pack', label: parts.has('pack') ? `${variant.of} · ${variant.label}` : variant.label, option };
    const written =
      (areAll ? requested[i] : requested.find((one) => one.written === option.name))?.written ?? option.name;
    return { axis: 'pack', label: written, written, option };
  });
}

/**
 * The last axis changes fastest: packs and duty limits of one craft come one after the other. What is known of today's build, test stands and
 * observations that its own file sees, is known of its candidates too.
 */
function composer(
  nodes: readonly PartNode[],
  variant: Build,
  today: Build,
  requirements: Shortlist['requirements'],
): (index: number, axes: readonly Axis[]) => Candidate {
  let last: { readonly key: string; readonly build: Build; readonly flown: Map<PackOption, BuildOnPack> } | undefined;
  const benches = new Map<string, Build['benches']>();
  return (index, axes) => {
    const choices: Choice[] = [];
    let rest = index;
    for (const { choices: all } of axes.toReversed()) {
      const choice = all[rest % all.length];
      if (choice) choices.unshift(choice);
      rest = Math.floor(rest / all.length);
    }
    const of = (axis: Axis['of']) => choices.find((choice) => choice.axis === axis);
    const motor = ofKind(of('motor')?.part, 'motor');
    const propeller = ofKind(of('propeller')?.part, 'propeller');
    const airframe = ofKind(of('airframe')?.part, 'airframe');
    // Variants may have one name: what each is goes by its label.
    const labels = (['airframe', 'motor', 'propeller'] as const).map((axis) => of(axis)?.label);
    const board = of('esc')?.build ?? variant;
    const key = [board.name, ...labels].join('|');
    if (last?.key !== key) {
      const rotors = board.rotors.map((line) => ({
        ...line,
        ...(motor && { motor }),
        ...(propeller && { propeller }),
      }));
      const about = propeller?.name ?? '';
      if (!benches.has(about))
        benches.set(about, once(nodes.flatMap((node) => benchesAbout(node, rotors)).map(readBench)));
      const build: Build = {
        ...board,
        rotors,
        ...(airframe && board.airframe && { airframe: { ...board.airframe, part: airframe, name: airframe.name } }),
        benches: benches.get(about) ?? [],
      };
      last = { key, build, flown: new Map() };
    }
    const craft = last.build;
    const picked = of('pack')?.option ?? craft.packs[0];
    if (!picked) throw new CannotChoose(`${withoutTrialMarks(variant.name)} flies on no pack yet`);
    const duty = of('duty')?.duty;
    const option = duty === undefined ? picked : withDutyLimit(picked, duty);
    const known = last.flown.get(picked) ?? { build: flownOn(picked, craft, today, requirements), option: picked };
    last.flown.set(picked, known);
    let build = option === picked ? known.build : undefined;
    return {
      index,
      craft: known,
      option,
      choices,
      get build() {
        if (build) return build;
        build = { ...known.build, packs: [option] };
        learnsAs(build, known.build);
        return build;
      },
    };
  };
}

/** Each once, by its place: two readings of one file both contain it. */
function once<T extends { readonly place: Place }>(all: readonly T[]): T[] {
  return [...new Map(all.toReversed().map((one) => [startKey(one.place), one])).values()].reverse();
}

/** With everything that was observed of its parts. */
function flownOn(option: PackOption, craft: Build, today: Build, requirements: Shortlist['requirements']): Build {
  const { rules } = craft;
  const build: Build = {
    ...craft,
    packs: [option],
    rules: { ...rules, requirements: [...rules.requirements, ...requirements] },
    kin: () => {
      const own = new Set(teachingParts(build).map(partKey));
      const all = [...craft.kin(), ...today.kin()];
      const kept = new Set(once(all.map((kin) => kin.build)));
      return all.filter(
        ({ build: other }) => kept.has(other) && teachingParts(other).some((part) => own.has(partKey(part))),
      );
    },
  };
  return build;
}
