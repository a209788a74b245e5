/**
 * How a result came about: the formula, the numbers put in with where they come from, and the source to read it up in.
 * Results that rest on other results name these, so that a reader can walk down to the figures.
 */
import type { Place } from '../model/place.ts';
import type { Origin } from '../vocabulary/schema.ts';
import type { Assessment } from './assessment.ts';
import { explanationOf } from './explanations.ts';

/** One number that was put in. */
export interface DerivationTerm {
  /** As it stands in the formula. */
  readonly symbol: string;
  readonly label: string;
  /** SI. */
  readonly value: number;
  /** Unit in which to print it; none for a plain number. */
  readonly unit: string;
  /** k = 2, SI. */
  readonly plusMinus?: number;
  /** When it is a figure of a part. */
  readonly origin?: Origin;
  /** What the file says of its origin, or why it was taken to be so. */
  readonly because?: string;
  readonly place?: Place;
  /** When it is a result of its own: its name. */
  readonly result?: string;
}

export interface Derivation {
  readonly name: string;
  /** In symbols. */
  readonly formula: string;
  /** In words. */
  readonly says: string;
  readonly terms: readonly DerivationTerm[];
  /** Where the formula comes from. */
  readonly source: string;
  /** What it leaves out, and when that matters. */
  readonly neglects?: string;
}

/** Undefined where the result does not exist. */
export function derivationOf(name: string, assessment: Assessment): Derivation | undefined {
  if (!assessment.results.has(name)) return undefined;
  const explain = explanationOf(name);
  if (!explain) return undefined;
  const { terms, ...words } = explain(assessment);
  return { name, ...words, terms: terms.filter((term) => term !== undefined) };
}
