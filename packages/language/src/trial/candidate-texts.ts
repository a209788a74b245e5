/** Candidates as text: parts that are alike but for what varies. */
import { isAccept, type PartNode } from '../grammar/generated/ast.ts';
import { assemble } from '../model/assemble-build.ts';
import type { Build } from '../model/build.ts';
import { ofKind } from '../model/of-kind.ts';
import type { VariedFigure } from '../model/shortlists.ts';
import { entriesOfBuild } from '../syntax/entries.ts';
import { textOf } from '../syntax/source.ts';
import { formatValue } from '../units/print.ts';
import type { VariedKind } from '../vocabulary/kinds/shortlist-kind.ts';
import { inUnit } from './in-unit.ts';
import { TRIED } from './trial.ts';
import { basesOf, madeAlike, partNow, type Wanted } from './varied-parts.ts';

export interface Appended {
  readonly text: string;
  readonly wanted: Wanted;
  /** Names of variants by kind, for each value of a figure of each part. */
  readonly made: ReadonlyMap<
    VariedKind,
    readonly { readonly name: string; readonly of: string; readonly label: string }[]
  >;
  readonly boards: readonly { readonly name: string; readonly written: string; readonly label: string }[];
}

export function textFor(base: PartNode, wanted: Wanted): Appended {
  const lines: string[] = [];
  const made = new Map<VariedKind, { name: string; of: string; label: string }[]>();
  const { build } = assemble(base);
  for (const { kind, property, label: what, values, unit } of madeFigures(wanted)) {
    const known = made.get(kind);
    const bases = known
      ? known.map(({ name, of, label }) => ({ name, of, before: `${label} · ` }))
      : basesOf(kind, build, wanted).map((name) => ({ name, of: name, before: '' }));
    const variants = bases.flatMap(({ name, of, before }) =>
      values.map((value, i) => {
        const variant = `${name}${TRIED}${property.replaceAll('_', '')}${i}`;
        lines.push(
          `${kind} ${variant} like ${name} { ${figureLines({ kind, property }, inUnit(value, unit), value, of, build)} }`,
        );
        return { name: variant, of, label: `${before}${what} ${formatValue(value, unit)}` };
      }),
    );
    made.set(kind, variants);
  }
  const packs = made.get('pack')?.map(({ name }) => name) ?? wanted.parts.get('pack')?.map(({ written }) => written);
  const accepted = base.lines.filter(isAccept).map(textOf);
  const packLines = packs
    ? [
        ...entriesOfBuild(base)
          .filter(({ word }) => word === 'pack')
          .map(({ name }) => `without: ${name}`),
        ...packs.map((written) => `pack: ${written}`),
      ]
    : [];
  const madeBoards = made
    .get('esc')
    ?.map(({ name, of, label }) => ({ written: name, label: boardLabel(of, label, wanted) }));
  const namedBoards = wanted.parts.get('esc')?.map(({ written }) => ({ written, label: written }));
  const boards = (madeBoards ?? namedBoards ?? [{ written: '', label: '' }]).map((board, i) => ({
    name: `${base.name}${TRIED}${i}`,
    ...board,
  }));
  for (const { name, written } of boards) {
    const own = [...accepted, ...(written ? [`esc: ${written}`] : []), ...packLines];
    lines.push(`build ${name} like ${base.name} {\n${own.join('\n')}\n}`);
  }
  return { text: `${lines.join('\n')}\n`, wanted, made, boards };
}

/** Those that move other figures of their part with them come first: what is tried itself has the last word. */
function madeFigures({ figures }: Wanted) {
  const made = [...figures.values()].flatMap(({ figure, ...range }) =>
    figure === 'duty' ? [] : [{ ...figure, ...range }],
  );
  return made.sort((a, b) => Number(movesOthers(b)) - Number(movesOthers(a)));
}

const movesOthers = ({ kind, property }: VariedFigure): boolean =>
  (kind === 'pack' && property === 'capacity') || (kind === 'motor' && property === 'kv');

const boardLabel = (of: string, label: string, { parts }: Wanted): string =>
  parts.has('esc') ? `${of} · ${label}` : label;

/** A pack of that size of the make of those declared; a motor with other turns of as much copper; of every other figure itself alone. */
function figureLines(figure: VariedFigure, written: string, value: number, of: string, build: Build): string {
  const { kind, property } = figure;
  const line = `${property}: ${written}`;
  if (!movesOthers(figure)) return line;
  const part = partNow(kind, of, build);
  const now = part?.figure(property)?.value;
  const ratio = now ? value / now : 1;
  if (kind === 'pack') {
    const resistance = part?.declared('cell_resistance');
    return [
      line,
      ...madeAlike(ofKind(part, 'pack'), value, build),
      ...(resistance ? [`cell_resistance: ${inUnit(resistance.value / ratio, resistance.unit)}`] : []),
    ].join('  ');
  }
  const [resistance, idle] = [part?.declared('resistance'), part?.declared('no_load_current')];
  const at = idle?.conditions.at;
  return [
    line,
    ...(resistance ? [`resistance: ${inUnit(resistance.value / ratio ** 2, resistance.unit)}`] : []),
    ...(idle
      ? [`no_load_current: ${inUnit(idle.value * ratio, idle.unit)}${at ? ` at ${inUnit(at.value, at.unit)}` : ''}`]
      : []),
  ].join('  ');
}
