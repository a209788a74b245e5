/** A value with its ±, printed in a unit: the one way for results, for what is read off them and for terms of a sum. */
import { formatPlusMinus, formatSymmetric } from '../../units/print.ts';
import type { Estimate } from '../assessment.ts';
import { type Measurable, measurable } from './estimate.ts';

/** "8.4 ± 1.1 A"; without a ± the value alone. */
export const formatMeasurable = ({ value, plusMinus = 0 }: Printable, unit: string): string =>
  formatPlusMinus(value, plusMinus, unit);

type Printable = Pick<Measurable, 'value'> & Partial<Measurable>;

export const formatEstimate = (estimate: Estimate, unit: string): string =>
  formatMeasurable(measurable(estimate), unit);

/** As data of a report: SI with the unit in which to print it. */
export interface PrintedEstimate extends Measurable {
  readonly unit: string;
  /** What may as well be below zero is as wide on both sides. */
  readonly isSigned?: true;
}

export const printedIn = (unit: string, estimate: Estimate): PrintedEstimate => ({ ...measurable(estimate), unit });

export const formatPrinted = ({ value, plusMinus, unit, isSigned }: PrintedEstimate): string =>
  (isSigned ? formatSymmetric : formatPlusMinus)(value, plusMinus, unit);
