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

type Path = readonly (string | number)[];

/** One formula of a template: the place of its number, and its value. */
export interface Leaf {
  readonly path: Path;
  /** Where else the same formula is: equal motors on two lines are one motor. */
  readonly also: readonly Path[];
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

/** The same with one figure, by its id, higher by a step. Many formulas rest on one figure: each is computed once. */
export function withMoved(id: string | undefined, step: number, deviations?: Deviations, shifts?: Shifts): Reading {
  const known = new Map<Figure, number>();
  const read: Reading = (figure) => {
    const found = known.get(figure);
    if (found !== undefined) return found;
    const value = figure.recompute ? figure.recompute(read) : figure.value;
    const moved = (deviations?.get(figure.id) ?? 0) + (figure.id === id ? step : 0);
    const standing = moved === 0 ? value : deviated(figure, value, moved);
    const shifted = shifts?.get(figure.id)?.(standing) ?? standing;
    known.set(figure, shifted);
    return shifted;
  };
  return read;
}

/** The template with every formula read, and its formulas one by one; what the template has in common, the object has. */
export function fill<T extends object>(
  template: Template<T>,
  read: Reading = asItStands,
): { readonly filled: T; readonly leaves: readonly Leaf[] } {
  const leaves = new Map<Formula, Leaf & { readonly also: Path[] }>();
  const objects = new Map<object, object>();
  const path: (string | number)[] = [];
  const visit = (node: unknown): unknown => {
    if (typeof node === 'function') {
      const formula = node as Formula;
      const known = leaves.get(formula);
      if (known) {
        known.also.push(path.slice());
        return known.value;
      }
      const value = formula(read);
      leaves.set(formula, { path: path.slice(), also: [], formula, value });
      return value;
    }
    if (typeof node !== 'object' || node === null) return node;
    if (Array.isArray(node)) return node.map((element, i) => visitAt(i, element));
    const filled: Record<string, unknown> = {};
    for (const key in node) filled[key] = visitAt(key, (node as Record<string, unknown>)[key]);
    const known = objects.get(node);
    if (!known) objects.set(node, filled);
    return known ?? filled;
  };
  const visitAt = (key: string | number, node: unknown): unknown => {
    if (typeof node !== 'function' && typeof node !== 'object') return node;
    path.push(key);
    const filled = visit(node);
    path.pop();
    return filled;
  };
  return { filled: visit(template) as T, leaves: [...leaves.values()] };
}

/** Every figure that a formula reads, those behind estimates included, in the order of reading. */
export function figuresOf(formula: Formula): Figure[] {
  const figures = new Map<string, Figure>();
  formula((figure) => {
    for (const one of withThoseBehind(figure)) figures.set(one.id, one);
    return figure.value;
  });
  return [...figures.values()];
}

const behind = new WeakMap<Figure, readonly Figure[]>();

/** A figure, and those that it is estimated from: many formulas read the same ones. */
function withThoseBehind(figure: Figure): readonly Figure[] {
  const known = behind.get(figure);
  if (known) return known;
  const found = figure.recompute ? [figure, ...figuresOf(figure.recompute)] : [figure];
  behind.set(figure, found);
  return found;
}

/** The number at a leaf. */
export const numberAt = (object: object, { path }: Pick<Leaf, 'path'>): number =>
  path.reduce((inner: unknown, key) => (inner as Record<string | number, unknown>)[key], object) as number;

/** A copy with the number at a leaf replaced, wherever it is; all that it does not touch is shared. */
export function withNumber<T>(object: T, { path, also }: Pick<Leaf, 'path' | 'also'>, value: number): T {
  const copies = new Map<unknown, Record<string | number, unknown>>();
  const replace = (inner: unknown, at: Path, depth: number): unknown => {
    const key = at[depth];
    if (key === undefined) return value;
    const known = copies.get(inner);
    const copy = known ?? ((Array.isArray(inner) ? [...inner] : { ...(inner as object) }) as typeof known & object);
    if (!known) copies.set(inner, copy);
    copy[key] = replace((inner as Record<string | number, unknown>)[key], at, depth + 1);
    return copy;
  };
  let replaced = replace(object, path, 0);
  for (const place of also) replaced = replace(object, place, 0);
  return replaced as T;
}
