/** Lines of measurements as functions of the inputs: numbers from a template, a prediction for each line, and its slopes. */
import type { Figure, Reading } from '../../model/build.ts';
import type { Place } from '../../syntax/place.ts';
import { NONE } from '../../units/dimension.ts';
import { plusMinusOf } from '../../units/interval.ts';
import { once } from '../evaluate/once.ts';
import { finite } from '../finite.ts';
import {
  type Deviations,
  type Formula,
  figuresOf,
  fill,
  type Leaf,
  numberAt,
  type Template,
  withDeviations,
  withMoved,
  withNumber,
} from '../setup/template.ts';
import { MODEL_FORM_PREFIX } from '../uncertainty/model-form-prefix.ts';

/** One number that somebody read. */
export interface MeasuredLine {
  /** In words, with whose it is: `current in hover of “old granary”`. */
  readonly label: string;
  /** As it is called in its block: `hover_current`; a column of a stand: `current`. */
  readonly reading: string;
  /** Title of the observation, or name of the stand. */
  readonly from: string;
  /** Id of the observation, or of the stand. */
  readonly source: string;
  /** SI */
  readonly value: number;
  readonly unit: string;
  /** One standard deviation of this reading alone, what it shares with others left out: of the logarithm, or SI where `isPlain`. */
  readonly error: number;
  readonly isPlain: boolean;
  /** What it is compared with rests on this other reading of its block, not on figures alone. */
  readonly against?: string;
  /** Of a stand, the first is 1; and whether its speed or voltage is open. */
  readonly row?: number;
  readonly isOpen?: boolean;
  readonly place: Place;
}

/** On the scale of a line: a logarithm, or the reading itself. */
export const scaledDifference = ({ value, isPlain }: MeasuredLine, predicted: number): number =>
  isPlain ? value - predicted : Math.log(value / predicted);

/** The ± of a reading at a value, from its deviation: of the logarithm, or SI where `isPlain`. */
export const readingPlusMinus = (
  { isPlain }: { readonly isPlain?: boolean | undefined },
  deviation: number,
  value: number,
): number => plusMinusOf(isPlain ? deviation : deviation * Math.abs(value));

/** Which readings a scene is made without; `row`: of a stand. */
export type Except = (reading: string, row?: number) => boolean;

export const NOTHING: Except = () => false;

/** What was measured at one time with one set of instruments. */
export interface Scene<T extends object = object> {
  readonly template: Template<T>;
  readonly lines: readonly MeasuredLine[];
  /** What else decides a prediction: plain data. */
  readonly circumstances: unknown;
  /** SI, one per line; undefined where there is no such point. `near`: what was solved for numbers that hardly differ. */
  predict(numbers: T, near?: T): readonly (number | undefined)[];
  /** SI, one per line, where there is one: what no craft of these numbers reads less than. */
  least?(numbers: T): readonly (number | undefined)[];
}

/** A scene without its numbers' type. */
export interface AnyScene {
  readonly lines: readonly MeasuredLine[];
  inputs(): readonly Figure[];
  /** All that decides what is learnt from it, as text. */
  content(): string;
  /** Predictions, SI, and the slopes of the line (on its scale) over each input's standard deviations. */
  linearise(deviations: Deviations, slopes: boolean): readonly Prediction[];
  least(): readonly (number | undefined)[];
}

export interface Prediction {
  /** SI; undefined where there is no such point. */
  readonly value: number | undefined;
  readonly slopes: ReadonlyMap<string, number>;
}

/** In standard deviations of an input: small enough that curvature does not show, large against what solvers leave. */
const STEP = 3e-3;

export function sceneOf<T extends object>({ template, lines, circumstances, predict, least }: Scene<T>): AnyScene {
  const usual = once(() => fill<T>(template));
  const figures = once(() => usual().leaves.map(({ formula }) => uncertainIn(formula)));
  const onScale = (line: MeasuredLine | undefined, value: number): number => (line?.isPlain ? value : Math.log(value));

  /** Before anything is learnt: needed again and again. */
  let usually: readonly Prediction[] | undefined;
  let content: string | undefined;

  function linearise(deviations: Deviations, slopes: boolean): readonly Prediction[] {
    if (deviations.size > 0 || !slopes) return linearised(deviations, slopes);
    usually ??= linearised(deviations, slopes);
    return usually;
  }

  function linearised(deviations: Deviations, slopes: boolean): Prediction[] {
    const { filled, leaves } = deviations.size === 0 ? usual() : fill<T>(template, withDeviations(deviations));
    const values = predict(filled);
    const found = values.map((value) => ({ value: finite(value), slopes: new Map<string, number>() }));
    if (!slopes) return found;
    // One reading for each figure that is moved: what rests on it is computed once for all formulas.
    const moved = new Map<string, Reading>();
    const withOneMoved = (id: string): Reading => {
      const reading = moved.get(id) ?? withMoved(id, STEP, deviations);
      moved.set(id, reading);
      return reading;
    };
    for (const [l, leaf] of leaves.entries()) addSlopes(filled, leaf, figures()[l] ?? [], withOneMoved, found);
    return found;
  }

  function addSlopes(
    filled: T,
    leaf: Leaf,
    read: readonly Figure[],
    withOneMoved: (id: string) => Reading,
    found: readonly { readonly value: number | undefined; readonly slopes: Map<string, number> }[],
  ): void {
    const { formula, value } = leaf;
    const pulls = read.flatMap(({ id }) => {
      const pull = (formula(withOneMoved(id)) - value) / STEP;
      return pull !== 0 && Number.isFinite(pull) ? [{ id, pull }] : [];
    });
    if (pulls.length === 0) return;
    const step = STEP * Math.sqrt(pulls.reduce((sum, { pull }) => sum + pull ** 2, 0));
    const moved = predict(withNumber(filled, leaf, numberAt(filled, leaf) + step), filled);
    for (const [i, { value: before, slopes }] of found.entries()) {
      const after = finite(moved[i]);
      if (before === undefined || after === undefined || after === before) continue;
      const slope = (onScale(lines[i], after) - onScale(lines[i], before)) / step;
      for (const { id, pull } of pulls) slopes.set(id, (slopes.get(id) ?? 0) + slope * pull);
    }
  }

  return {
    lines,
    inputs: () => figures().flat(),
    content: () => {
      content ??= JSON.stringify([
        usual().filled,
        usual().leaves.map(({ path }) => path.join('.')),
        circumstances,
        figures()
          .flat()
          .map(({ id, value, standardUncertainty: u }) => [id, value, u]),
        lines.map(({ reading, value, error, from }) => [reading, value, error, from]),
      ]);
      return content;
    },
    linearise,
    least: () => least?.(usual().filled) ?? [],
  };
}

const uncertainIn = (formula: Formula): Figure[] => figuresOf(formula).filter(({ standardUncertainty: u }) => u > 0);

/** The template with some figures replaced by others: the air of that day, the pack as warm as it was then. */
export function withOwn<T>(template: Template<T>, own: (figure: Figure) => Figure): Template<T> {
  // What is in two places stays one thing.
  const replaced = new Map<unknown, unknown>();
  const replace = (node: unknown): unknown => {
    if (replaced.has(node)) return replaced.get(node);
    const other = anew(node);
    if (typeof node === 'function' || typeof node === 'object') replaced.set(node, other);
    return other;
  };
  const anew = (node: unknown): unknown => {
    if (typeof node === 'function') {
      const formula = node as Formula;
      return (read: Reading) => formula((figure) => read(own(figure)));
    }
    if (Array.isArray(node)) return node.map(replace);
    if (typeof node !== 'object' || node === null) return node;
    return Object.fromEntries(Object.entries(node).map(([key, inner]) => [key, replace(inner)]));
  };
  return replace(template) as Template<T>;
}

/** A figure that belongs to one flight or one instrument: nobody writes it into a file. */
export function nuisance(
  id: string,
  label: string,
  value: number,
  standardUncertainty: number,
  spread: NonNullable<Figure['spread']> = 'log',
): Figure {
  return {
    ...ownIdentity(id),
    label,
    value,
    dimension: NONE,
    unit: '',
    standardUncertainty,
    spread,
    origin: 'default',
    conditions: {},
  };
}

/** Of what belongs to one flight, or one instrument. */
export const ownIdentity = (id: string): Pick<Figure, 'id' | 'whose'> => ({
  id: `${MODEL_FORM_PREFIX}own ${id}`,
  whose: { sort: 'occasion' },
});
