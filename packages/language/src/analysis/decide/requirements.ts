/**
 * Judging a requirement: arithmetic on results with their ±, comparisons with three outcomes, and the logic between them.
 * What both sides of a comparison have in common cancels in their difference, so `full_current - hover_current <= 60 A` is
 * judged with the ± of the difference.
 */
import type { ComparisonOperator, Expression, PackOption, Requirement } from '../../model/build.ts';
import type { Place } from '../../syntax/place.ts';
import {
  alike,
  describe,
  divideDimension,
  equal,
  multiplyDimension,
  NONE,
  TEMPERATURE,
} from '../../units/dimension.ts';
import type { Interval } from '../../units/interval.ts';
import { displayUnit, formatPlusMinus, formatSymmetric, formatValue } from '../../units/print.ts';
import type { Dimension } from '../../units/quantity.ts';
import { nameOfResult, type ResultKey, schemaOfResult } from '../../vocabulary/results.ts';
import type { Assessment, Estimate, NoResult } from '../assessment.ts';
import { whyMissing } from '../explain/reasons.ts';
import { add, divide, ends, exact, expanded, greatest, least, multiply, subtract } from '../uncertainty/estimate.ts';

/**
 * `holds` and `fails` at the near end of the ± too; `unsure` when the ± decides; `unknown` when a result in it does not
 * exist or the expression makes no sense.
 */
type Outcome = 'holds' | 'fails' | 'unsure' | 'unknown';

/** One comparison inside a requirement. */
interface JudgedSides {
  readonly operator: ComparisonOperator;
  readonly left: Estimate;
  readonly right: Estimate;
  /** Left less right. */
  readonly difference: Estimate;
  /** In which both sides are printed; none for plain numbers. */
  readonly unit: string;
  readonly outcome: Outcome;
  readonly place: Place;
  /** "hover time 4.6 ± 0.9 min, required ≥ 4 min" */
  readonly words: string;
  /** The same without the side that it begins with: "4.6 ± 0.9 min, required ≥ 4 min". */
  readonly numbers: string;
  /** The results that the words name. */
  readonly results: readonly ResultKey[];
}

export interface ConditionVerdict {
  readonly outcome: Outcome;
  /** The outcome by the values without their ±. */
  readonly leaning: 'holds' | 'fails' | undefined;
  /** Every comparison that was made, in the order in which they are written. */
  readonly comparisons: readonly JudgedSides[];
  /** Results in it that do not exist, with the reason. */
  readonly missing: readonly (Omit<NoResult, 'label'> & { readonly place: Place })[];
  /** Quantities that cannot be compared or combined. */
  readonly problems: readonly { readonly message: string; readonly place: Place }[];
}

/** `with PACK` requires it of one pack only. */
export const isAskedOn = ({ pack }: Requirement, { name }: PackOption): boolean => pack === undefined || pack === name;

export function judge(requirement: Requirement, assessment: Assessment): ConditionVerdict {
  const judging = new Judging(assessment);
  const { outcome, leaning } = judging.truth(requirement.condition);
  const { comparisons, missing, problems } = judging;
  return { outcome, leaning, comparisons, missing, problems };
}

/** A value in the course of a requirement. */
interface Value {
  readonly estimate: Estimate;
  readonly dimension: Dimension;
  /** Unit in which to print it; of a sum that of its first term. */
  readonly unit: string;
  /** The result that it is; none where it is computed from several. */
  readonly of: ResultKey | undefined;
}

interface Truth {
  readonly outcome: Outcome;
  readonly leaning: 'holds' | 'fails' | undefined;
}

const UNKNOWN: Truth = { outcome: 'unknown', leaning: undefined };

class Judging {
  readonly comparisons: JudgedSides[] = [];
  readonly missing: ConditionVerdict['missing'][number][] = [];
  readonly problems: ConditionVerdict['problems'][number][] = [];
  readonly #assessment: Assessment;

  constructor(assessment: Assessment) {
    this.#assessment = assessment;
  }

  /** A `not` is moved down to the comparisons, so that their words state what is required: not `>` but `≤`. */
  truth(expression: Expression, negated = false): Truth {
    switch (expression.kind) {
      case 'comparison':
        return this.#compare(negated ? { ...expression, operator: NEGATED[expression.operator] } : expression);
      case 'and':
      case 'or': {
        const truths = expression.operands.map((operand) => this.truth(operand, negated));
        const all = (expression.kind === 'and') !== negated;
        return all ? every(truths) : opposite(every(truths.map(opposite)));
      }
      case 'not':
        return this.truth(expression.operand, !negated);
      default:
        this.#problem('a comparison is expected here, such as `hover_time >= 4 min`', expression.place);
        return UNKNOWN;
    }
  }

  #problem(message: string, place: Place): undefined {
    this.problems.push({ message, place });
    return undefined;
  }

  #compare({ operator, left, right, place }: Expression & { kind: 'comparison' }): Truth {
    const first = this.#value(left);
    const second = this.#value(right);
    if (!first || !second) return UNKNOWN;
    if (!equal(first.dimension, second.dimension)) {
      const sides = `${describe(first.dimension)} with ${describe(second.dimension)}`;
      this.#problem(`${sides} cannot be compared`, place);
      return UNKNOWN;
    }
    const difference = subtract(first.estimate, second.estimate);
    const truth = outcomeOf(operator, difference, apart(first, second, difference));
    this.comparisons.push({
      operator,
      left: first.estimate,
      right: second.estimate,
      difference,
      unit: first.unit || second.unit,
      outcome: truth.outcome,
      place,
      get words() {
        const { side, numbers } = inWords(operator, first, second);
        return `${side} ${numbers}`;
      },
      get numbers() {
        return inWords(operator, first, second).numbers;
      },
      results: [first.of, second.of].filter((one) => one !== undefined),
    });
    return truth;
  }

  #value(expression: Expression): Value | undefined {
    switch (expression.kind) {
      case 'quantity': {
        const { value, dimension, unit } = expression.figure;
        return { estimate: exact(value), dimension, unit, of: undefined };
      }
      case 'result':
        return this.#result(expression);
      case 'arithmetic':
        return this.#arithmetic(expression);
      case 'extreme':
        return this.#extreme(expression);
      default:
        return this.#problem('a quantity is expected here, not a comparison', expression.place);
    }
  }

  #result({ name, of, place }: Expression & { kind: 'result' }): Value | undefined {
    if (!of) return this.#problem(`there is no result ${name}`, place);
    const id = nameOfResult(of);
    const found = this.#assessment.results.get(id);
    if (found) {
      const described = schemaOfResult(of);
      const { unit, estimate } = found;
      const dimension = unit === described.unit ? described.dimension : displayUnit(unit).dimension;
      return { estimate, dimension, unit, of };
    }
    const { without } = this.#assessment.missing.get(id) ?? {};
    this.missing.push({ name: id, reason: whyMissing(id, this.#assessment), ...(without && { without }), place });
    return undefined;
  }

  #arithmetic({ operator, left, right, place }: Expression & { kind: 'arithmetic' }): Value | undefined {
    const first = this.#value(left);
    const second = this.#value(right);
    if (!first || !second) return undefined;
    if (operator === '*') {
      const dimension = multiplyDimension(first.dimension, second.dimension);
      return derived(multiply(first.estimate, second.estimate), dimension, first, second);
    }
    if (operator === '/') {
      const quotient = divide(first.estimate, second.estimate);
      if (!quotient) return this.#problem('this divides by zero', place);
      return derived(quotient, divideDimension(first.dimension, second.dimension), first, second);
    }
    const dimension = sumDimension(operator, first.dimension, second.dimension);
    if (!dimension) {
      const [joined, verb] = operator === '+' ? ['and', 'added'] : ['and', 'subtracted'];
      const sides = `${describe(first.dimension)} ${joined} ${describe(second.dimension)}`;
      return this.#problem(`${sides} cannot be ${verb}`, place);
    }
    const combined = operator === '+' ? add : subtract;
    return derived(combined(first.estimate, second.estimate), dimension, first, second);
  }

  #extreme({ call, arguments: given, place }: Expression & { kind: 'extreme' }): Value | undefined {
    const values = given.map((argument) => this.#value(argument));
    const present = values.filter((value) => value !== undefined);
    const [first] = present;
    if (!first || present.length < values.length) return undefined;
    const odd = present.find(({ dimension }) => !equal(dimension, first.dimension));
    if (odd) {
      const sides = `${describe(first.dimension)} and ${describe(odd.dimension)}`;
      return this.#problem(`${call} cannot choose between ${sides}`, place);
    }
    const estimates = present.map(({ estimate }) => estimate);
    const estimate = call === 'min' ? least(estimates) : greatest(estimates);
    return estimate && { ...first, estimate, of: undefined };
  }
}

/** Points on the temperature scale: their difference is a difference, and a difference may be added to one. */
function sumDimension(operator: '+' | '-', left: Dimension, right: Dimension): Dimension | undefined {
  if (!alike(left, right)) return undefined;
  if (!left.point && !right.point) return left;
  if (left.point && right.point) return operator === '-' ? TEMPERATURE : undefined;
  if (left.point) return left;
  return operator === '+' ? right : undefined;
}

/** A sum keeps the unit of its terms, a multiple that of what it multiplies; anything else has no unit of the trade. */
function derived(estimate: Estimate, dimension: Dimension, ...operands: readonly Value[]): Value {
  const kept = operands.find((operand) => equal(operand.dimension, dimension) && !equal(dimension, NONE));
  return { estimate, dimension, unit: kept?.unit ?? '', of: undefined };
}

/**
 * How far two values are apart at either end; next to a plain number a result that is known badly reaches farther up than down. What was subtracted may
 * as well be negative: its sides are alike.
 */
function apart(first: Value, second: Value, difference: Estimate): Interval {
  if (isPlainNumber(second) && isResult(first)) return shifted(ends(first.estimate), -second.estimate.value);
  if (isPlainNumber(first) && isResult(second)) {
    const { low, high } = ends(second.estimate);
    return shifted({ low: -high, high: -low }, first.estimate.value);
  }
  const { value } = difference;
  const halfWidth = expanded(difference);
  return { low: value - halfWidth, high: value + halfWidth };
}

/** Of the vocabulary, nothing computed from several; a temperature has no zero to be far from. */
const isResult = ({ of, dimension }: Value): boolean => of !== undefined && !dimension.point;

const shifted = ({ low, high }: Interval, by: number): Interval => ({ low: low + by, high: high + by });

/** @param reach of the difference */
function outcomeOf(operator: ComparisonOperator, difference: Estimate, reach: Interval): Truth {
  const atLeast = operator === '>' || operator === '>=';
  const margin = atLeast ? difference.value : -difference.value;
  const strict = operator === '>' || operator === '<';
  const leaning = margin > 0 || (margin === 0 && !strict) ? 'holds' : 'fails';
  const isSure = difference.value > 0 ? reach.low >= 0 : reach.high <= 0;
  return { outcome: isSure ? leaning : 'unsure', leaning };
}

const opposite = ({ outcome, leaning }: Truth): Truth => ({
  outcome: outcome === 'holds' ? 'fails' : outcome === 'fails' ? 'holds' : outcome,
  leaning: leaning && (leaning === 'holds' ? 'fails' : 'holds'),
});

/** Three values and a fourth: one failure decides; without one, what is not known counts before what is not sure. */
function every(truths: readonly Truth[]): Truth {
  const failing = truths.find(({ outcome }) => outcome === 'fails');
  if (failing) return failing;
  if (truths.some(({ outcome }) => outcome === 'unknown')) return UNKNOWN;
  const leaning = truths.every((truth) => truth.leaning === 'holds') ? 'holds' : 'fails';
  const sure = truths.every(({ outcome }) => outcome === 'holds');
  return { outcome: sure ? 'holds' : 'unsure', leaning };
}

const SIGNS: Readonly<Record<ComparisonOperator, string>> = { '<': '<', '<=': '≤', '>': '>', '>=': '≥' };
const NEGATED: Readonly<Record<ComparisonOperator, ComparisonOperator>> = {
  '<': '>=',
  '<=': '>',
  '>': '<=',
  '>=': '<',
};
const TURNED: Readonly<Record<ComparisonOperator, ComparisonOperator>> = { '<': '>', '<=': '>=', '>': '<', '>=': '<=' };

interface SidesInWords {
  /** "hover time" */
  readonly side: string;
  /** "4.6 ± 0.9 min, required ≥ 4 min" */
  readonly numbers: string;
}

/** The value and what is required. */
function inWords(operator: ComparisonOperator, left: Value, right: Value): SidesInWords {
  // `4 min <= hover_time` requires the same as `hover_time >= 4 min`.
  if (isPlainNumber(left) && !isPlainNumber(right)) return inWords(TURNED[operator], right, left);
  const unit = left.unit === '' ? right.unit : left.unit;
  const shown = printed(left, unit);
  const required = isPlainNumber(right)
    ? printed(right, right.unit)
    : `${wordsOf(right) ?? ''} ${printed(right, unit)}`.trim();
  return { side: wordsOf(left) ?? 'left side', numbers: `${shown}, required ${SIGNS[operator]} ${required}` };
}

const wordsOf = ({ of }: Value): string | undefined => of && schemaOfResult(of)?.words;

const isPlainNumber = ({ estimate, of }: Value): boolean => estimate.contributions.length === 0 && of === undefined;

/** In its unit; a product that has none in base units, as a bare number. */
function printed(value: Value, unit: string): string {
  const { estimate, dimension } = value;
  const isOne = isResult(value);
  if (unit === '' && !equal(dimension, NONE)) return `${formatValue(estimate.value, '')} (${describe(dimension)})`;
  const format = isOne ? formatPlusMinus : formatSymmetric;
  return format(estimate.value, expanded(estimate), unit);
}
