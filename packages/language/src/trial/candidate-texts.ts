/** Candidates as text: parts that are alike but for what varies. */
import { isAccept, type Part as PartNode } from '../grammar/generated/ast.ts';
import type { Build } from '../model/build.ts';
import { assemble } from '../model/builds.ts';
import { KIND_OF_FIGURE, type VariedFigure, type VariedKind } from '../model/shortlists.ts';
import { entriesOfBuild } from '../syntax/entries.ts';
import { textOf } from '../syntax/source.ts';
import { formatValue } from '../units/print.ts';
import { inUnit } from './in-unit.ts';
import { TRIED } from './trial.ts';
import { basesOf, madeAlike, partNow, type Wanted } from './varied-parts.ts';

// ---- the same as text, read at once ----

export interface Appended {
  readonly text: string;
  readonly wanted: Wanted;
  /** Names of variants by kind, for each value of a figure of each part. */
  readonly made: ReadonlyMap<
    VariedKind,
    readonly { readonly name: string; readonly of: string; readonly label: string }[]
  >;
  readonly boards: readonly { readonly name: string; readonly written: string }[];
}

const FIGURES: readonly VariedFigure[] = ['capacity', 'kv', 'pitch', 'diameter'];

export function textFor(base: PartNode, wanted: Wanted): Appended {
  const lines: string[] = [];
  const made = new Map<VariedKind, { name: string; of: string; label: string }[]>();
  const { build } = assemble(base);
  for (const figure of FIGURES) {
    const range = wanted.figures.get(figure);
    if (!range) continue;
    const kind = KIND_OF_FIGURE[figure];
    const known = made.get(kind);
    const bases = known
      ? known.map(({ name, of, label }) => ({ name, of, before: `${label} · ` }))
      : basesOf(kind, build, wanted).map((name) => ({ name, of: name, before: '' }));
    const variants = bases.flatMap(({ name, of, before }) =>
      range.values.map((value, i) => {
        const variant = `${name}${TRIED}${figure}${i}`;
        lines.push(`${kind} ${variant} like ${name} { ${figureLines(figure, value, kind, of, build)} }`);
        return { name: variant, of, label: `${before}${figure} ${formatValue(value, range.unit)}` };
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
  const boards = (wanted.parts.get('esc') ?? [{ written: '' }]).map(({ written }, i) => ({
    name: `${base.name}${TRIED}${i}`,
    written,
  }));
  for (const { name, written } of boards) {
    const own = [...accepted, ...(written ? [`esc: ${written}`] : []), ...packLines];
    lines.push(`build ${name} like ${base.name} {\n${own.join('\n')}\n}`);
  }
  return { text: `${lines.join('\n')}\n`, wanted, made, boards };
}

/** A pack of that size of the make of those declared; a motor with other turns of as much copper. */
function figureLines(figure: VariedFigure, value: number, kind: VariedKind, of: string, build: Build): string {
  const part = partNow(kind, of, build);
  const now = part?.figure(figure)?.value;
  const unit = part?.figure(figure)?.unit ?? '';
  const ratio = now ? value / now : 1;
  const line = `${figure}: ${inUnit(value, unit)}`;
  if (figure === 'capacity') {
    const resistance = part?.declared('cell_resistance');
    return [
      line,
      ...madeAlike(part, value, build),
      ...(resistance ? [`cell_resistance: ${inUnit(resistance.value / ratio, resistance.unit)}`] : []),
    ].join('  ');
  }
  if (figure !== 'kv') return line;
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
