/**
 * A template is a plain object in which some numbers are still formulas over figures: how each number that the physics
 * takes arises from the build. Read once it gives the object itself; read with one figure moved it shows which
 * numbers that figure reaches, and how strongly. Nothing else is needed to propagate an uncertainty.
 */
import type { Figure, Reading } from '../../model/build.ts';
import { deviated } from '../uncertainty/spread.ts';

/** How a number arises from figures; reads every figure it depends on, the same ones each time. */
export type Formula = (read: Reading) => number;

export type Template<T> = T extends number
  ? T | Formula
  : T extends string | boolean | undefined
    ? T
    : T extends readonly (infer Element)[]
      ? readonly Template<Element>[]
      : { readonly [Key in keyof T]: Template<T[Key]> };

/** One formula of a template: the place of its number, and its value. */
export interface Leaf {
  readonly path: readonly (string | number)[];
  readonly formula: Formula;
  readonly value: number;
}

/** A figure as it is; an estimated one was computed from what it rests on. */
export const asItStands: Reading = (figure) => figure.value;

/** Deviation of figures from what is stated or estimated, in their own standard deviations, by their ids. */
export type Deviations = ReadonlyMap<string, number>;

/** What becomes of figures that somebody changes, by their ids; what is not known of them stays unknown. */
export type Shifts = ReadonlyMap<string, (value: number) => number>;

/** A reading in which figures deviate; whatever is estimated from them follows. */
export const withDeviations = (deviations?: Deviations, shifts?: Shifts): Reading =>
  withMoved(undefined, 0, deviations, shifts);

/** The same with one figure, by its id, higher by a step. */
export function withMoved(id: string | undefined, step: number, deviations?: Deviations, shifts?: Shifts): Reading {
  const read: Reading = (figure) => {
    const value = figure.estimate ? figure.estimate(read) : figure.value;
    const moved = (deviations?.get(figure.id) ?? 0) + (figure.id === id ? step : 0);
    const standing = moved === 0 ? value : deviated(figure, value, moved);
    return shifts?.get(figure.id)?.(standing) ?? standing;
  };
  return read;
}

/** The template with every formula read, and its formulas one by one. */
export function fill<T extends object>(
  template: Template<T>,
  read: Reading = asItStands,
): { readonly filled: T; readonly leaves: readonly Leaf[] } {
  const leaves: Leaf[] = [];
  const path: (string | number)[] = [];
  const visit = (node: unknown): unknown => {
    if (typeof node === 'function') {
      const formula = node as Formula;
      const value = formula(read);
      leaves.push({ path: path.slice(), formula, value });
      return value;
    }
    if (Array.isArray(node)) return node.map((element, i) => visitAt(i, element));
    if (typeof node !== 'object' || node === null) return node;
    const filled: Record<string, unknown> = {};
    for (const key in node) filled[key] = visitAt(key, (node as Record<string, unknown>)[key]);
    return filled;
  };
  const visitAt = (key: string | number, node: unknown): unknown => {
    if (typeof node !== 'function' && typeof node !== 'object') return node;
    path.push(key);
    const filled = visit(node);
    path.pop();
    return filled;
  };
  return { filled: visit(template) as T, leaves };
}

/** Every figure that a formula reads, those behind estimates included, in the order of reading. */
export function figuresOf(formula: Formula): Figure[] {
  const figures = new Map<string, Figure>();
  const read: Reading = (figure) => {
    figures.set(figure.id, figure);
    return figure.estimate ? figure.estimate(read) : figure.value;
  };
  formula(read);
  return [...figures.values()];
}

/** The number at a path. */
export const numberAt = (object: object, path: Leaf['path']): number =>
  path.reduce((inner: unknown, key) => (inner as Record<string | number, unknown>)[key], object) as number;

/** A copy with the number at a path replaced; all that the path does not touch is shared. */
export function withNumber<T>(object: T, path: Leaf['path'], value: number, depth = 0): T {
  const key = path[depth];
  if (key === undefined) return value as T;
  const inner = (object as Record<string | number, unknown>)[key];
  const changed = withNumber(inner, path, value, depth + 1);
  if (Array.isArray(object)) {
    const copy = [...object];
    copy[key as number] = changed;
    return copy as T;
  }
  return { ...object, [key]: changed };
}
