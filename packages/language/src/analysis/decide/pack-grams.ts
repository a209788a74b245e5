/**
 * How much heavier the pack may be, all else alike, before each requirement fails. Searched on request: it solves the
 * craft some twenty times a requirement, too much to do at every key.
 */
import type { Expression, Requirement } from '../../model/build.ts';
import { resultsIn } from '../../model/expressions.ts';
import { nameOfResult, type ResultId, resultOf } from '../../vocabulary/results.ts';
import { assessChanged, assessPlainly, type SetupChange } from '../assess.ts';
import type { Assessment, Estimate } from '../assessment.ts';
import { least } from '../uncertainty/estimate.ts';
import { bisect } from './bisect.ts';
import { type ConditionVerdict, isAskedOn, judge } from './requirements.ts';
import { crossingBetween } from './solver.ts';

export const PACK_GRAMS_LEFT = 'pack_grams_left' satisfies ResultId;

/** Either how much, or why there is no such mass. */
export interface GramsLeft {
  readonly requirement: Requirement;
  /** kg, of all packs of the option; below zero where it fails already: by so much they are too heavy. */
  readonly mass?: Estimate;
  readonly reason?: string;
}

/** kg. No craft here lifts more; found first to a twentieth of a gram. */
const MOST = 5;
const FIRST_STEP = 1e-3;
const RESOLUTION = 5e-5;

const searched = new WeakMap<Assessment, readonly GramsLeft[]>();

/** One a requirement that holds for the assessment's pack, in the order of the rules. */
export function gramsLeft(assessment: Assessment): readonly GramsLeft[] {
  const known = searched.get(assessment);
  if (known) return known;
  const { build, option } = assessment;
  const search = new Search(assessment);
  const found = build.rules.requirements
    .filter(
      (requirement) =>
        isAskedOn(requirement, option) && !asksForGrams(requirement.condition) && !isAboutPrice(requirement),
    )
    .map((requirement) => search.of(requirement));
  searched.set(assessment, found);
  return found;
}

/** The assessment with the grams left until the first requirement fails among its results, or the reason why there are none. */
export function withGramsLeft(assessment: Assessment): Assessment {
  const { label, unit } = resultOf(PACK_GRAMS_LEFT);
  const left = gramsLeft(assessment);
  const estimate = least(left.flatMap(({ mass }) => mass ?? []));
  const impossible = left.find(({ reason }) => reason !== undefined && reason !== ANY_MASS_HOLDS);
  if (estimate && !impossible) {
    const results = new Map(assessment.results).set(PACK_GRAMS_LEFT, {
      name: PACK_GRAMS_LEFT,
      label,
      unit,
      estimate,
    });
    return { ...assessment, results };
  }
  const reason = impossible
    ? `\`${impossible.requirement.text}\` ${impossible.reason}`
    : left.length > 0
      ? 'no requirement depends on the mass of the pack'
      : 'nothing is required of this build on this pack';
  const missing = new Map(assessment.missing).set(PACK_GRAMS_LEFT, { name: PACK_GRAMS_LEFT, label, reason });
  return { ...assessment, missing };
}

/** The assessment with a result of that name, if it is one that is computed only on request. */
export const withResult = (name: ResultId, assessment: Assessment): Assessment =>
  name === PACK_GRAMS_LEFT ? withGramsLeft(assessment) : assessment;

/** Judges a requirement; one on the grams left is judged with them. */
export const verdictOn = (requirement: Requirement, assessment: Assessment): ConditionVerdict =>
  judge(requirement, asksForGrams(requirement.condition) ? withGramsLeft(assessment) : assessment);

function asksForGrams(expression: Expression): boolean {
  switch (expression.kind) {
    case 'quantity':
      return false;
    case 'result':
      return expression.name === PACK_GRAMS_LEFT;
    case 'not':
      return asksForGrams(expression.operand);
    case 'and':
    case 'or':
      return expression.operands.some(asksForGrams);
    case 'extreme':
      return expression.arguments.some(asksForGrams);
    case 'arithmetic':
    case 'comparison':
      return asksForGrams(expression.left) || asksForGrams(expression.right);
  }
}

/** No mass changes what it costs. */
const isAboutPrice = ({ condition }: Requirement): boolean =>
  [...resultsIn(condition)].every(({ name }) => name === 'price');

const ANY_MASS_HOLDS = 'holds with any heavier pack';
const ANY_MASS_FAILS = 'fails with a lighter pack too';
const UNKNOWN = 'cannot be judged';

/** Masses tried for one requirement serve the next. */
class Search {
  readonly #assessment: Assessment;
  readonly #tried = new Map<number, Assessment>();

  constructor(assessment: Assessment) {
    this.#assessment = assessment;
  }

  of(requirement: Requirement): GramsLeft {
    const { option } = this.#assessment;
    const own = option.part.figure('mass');
    if (!own || this.#leaning(requirement, 0) === undefined) return { requirement, reason: UNKNOWN };
    const holds = this.#holds(requirement, 0);
    const farthest = holds ? MOST : -option.count * own.value;
    const ends = this.#bracket(requirement, farthest);
    if (!ends) return { requirement, reason: holds ? ANY_MASS_HOLDS : ANY_MASS_FAILS };
    const mass = this.#between(requirement, ends);
    return mass ? { requirement, mass } : { requirement, reason: UNKNOWN };
  }

  /** Two masses close together, with the verdict's turn between them. */
  #bracket(requirement: Requirement, farthest: number): Bracket | undefined {
    const now = this.#holds(requirement, 0);
    let near = 0;
    let far = 0;
    for (let step = FIRST_STEP; far === 0 || this.#holds(requirement, far) === now; step *= 2) {
      if (far === farthest) return undefined;
      near = far;
      far = Math.sign(farthest) * Math.min(step, Math.abs(farthest));
    }
    const halvings = Math.max(0, Math.ceil(Math.log2(Math.abs(far - near) / RESOLUTION)));
    [near, far] = bisect(near, far, (more) => this.#holds(requirement, more) === now, halvings);
    return { light: Math.min(near, far), heavy: Math.max(near, far) };
  }

  #between(requirement: Requirement, { light, heavy }: Bracket): Estimate | undefined {
    const { build, option } = this.#assessment;
    const read = [...resultsIn(requirement.condition)].flatMap(({ of }) => (of ? nameOfResult(of) : []));
    const sure = assessChanged(build, option, heavier(light), [...read, 'thrust_to_weight']);
    return crossingBetween(requirement, { from: light, to: heavy, at: (more) => this.#at(more), sure });
  }

  #holds(requirement: Requirement, more: number): boolean {
    return this.#leaning(requirement, more) === 'holds';
  }

  #leaning(requirement: Requirement, more: number): ConditionVerdict['leaning'] {
    return judge(requirement, this.#at(more)).leaning;
  }

  #at(more: number): Assessment {
    if (more === 0) return this.#assessment;
    const { build, option } = this.#assessment;
    const found = this.#tried.get(more) ?? assessPlainly(build, option, heavier(more));
    this.#tried.set(more, found);
    return found;
  }
}

/** kg */
interface Bracket {
  readonly light: number;
  readonly heavy: number;
}

/** With packs that weigh so much more (kg). */
const heavier =
  (more: number): SetupChange =>
  (setup) => {
    const { craft, packMass } = setup;
    if (packMass === undefined) return setup;
    return {
      ...setup,
      packMass: packMass + more,
      ...(craft && { craft: { ...craft, mass: craft.mass + more } }),
    };
  };
