/** Which inputs cause a result's ±, and what measuring one of them would buy. */
import type { Figure } from '../../model/build.ts';
import { plusMinusOf } from '../../units/interval.ts';
import { howToMeasure } from '../../vocabulary/measuring.ts';
import type { Assessment, Estimate } from '../assessment.ts';
import { expanded } from './estimate.ts';

export interface Cause {
  readonly input: Figure;
  /** This input's part of the variance, 0 … 1. */
  readonly share: number;
  /** Its own share of the result's ± (k = 2), signed: the result's change when the input rises by its own ±. */
  readonly contribution: number;
  /** The result's ± (k = 2) if this input were known exactly. */
  readonly plusMinusWithout: number;
}

/** The inputs that cause most of an estimate's ±, largest first; none when it is exact. */
export function leading(estimate: Estimate, inputs: Assessment['inputs'], count: number): Cause[] {
  const plusMinus = expanded(estimate);
  if (plusMinus === 0) return [];
  return inputs
    .map((input, i): Cause => {
      const contribution = plusMinusOf(estimate.contributions[i] ?? 0);
      const share = (contribution / plusMinus) ** 2;
      return { input, share, contribution, plusMinusWithout: plusMinus * Math.sqrt(Math.max(0, 1 - share)) };
    })
    .filter((cause) => cause.contribution !== 0)
    .sort((a, b) => b.share - a.share || (a.input.id < b.input.id ? -1 : 1))
    .slice(0, count);
}

/** Origins that a measurement would replace; a figure already measured is no advice. */
const CAN_BE_MEASURED = new Set<Figure['origin']>(['default', 'estimated', 'claimed', 'stated']);

export interface Advice {
  /** In a builder's words: "the cell resistance of Mast1050_4S, as the charger shows it". */
  readonly how: string;
  /** The figures that it settles. */
  readonly inputs: readonly Figure[];
  /** Their part of the variance, 0 … 1. */
  readonly share: number;
  /** The result's ± (k = 2) if they were known exactly. */
  readonly plusMinusWithout: number;
}

/** A measurement that leaves more than this part of the ± is no advice (ours). */
const STILL_WIDE = 0.9;

/**
 * The one measurement that narrows an estimate most: of figures that are not measured yet and have a part of their own to be
 * measured on (a model-form term has none); one measurement may settle several figures. Undefined when none narrows it visibly.
 */
export function worthMeasuring(estimate: Estimate, inputs: Assessment['inputs']): Advice | undefined {
  const measurements = new Map<string, { inputs: Figure[]; share: number }>();
  for (const { input, share } of leading(estimate, inputs, inputs.length)) {
    if (!CAN_BE_MEASURED.has(input.origin) || isModelForm(input)) continue;
    const how = howToMeasure(input);
    const measurement = measurements.get(how) ?? { inputs: [], share: 0 };
    measurement.inputs.push(input);
    measurement.share += share;
    measurements.set(how, measurement);
  }
  const [best] = [...measurements].sort(([, a], [, b]) => b.share - a.share);
  if (!best) return undefined;
  const [how, { inputs: settled, share }] = best;
  const left = Math.sqrt(Math.max(0, 1 - share));
  return left > STILL_WIDE ? undefined : { how, inputs: settled, share, plusMinusWithout: expanded(estimate) * left };
}

/** Stated in no file, and to be stated in none. */
export const isModelForm = ({ whose: { sort } }: Figure): boolean => sort === 'model' || sort === 'occasion';
