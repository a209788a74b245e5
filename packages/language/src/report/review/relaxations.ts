/**
 * Where a build asks less, or forgives more, than before: requirements and margins that went or got weaker, findings that are accepted or
 * lowered. Told from what the lines mean: rewritten, moved, or covered by a stricter line they are no relaxation.
 */
import type { Finding, Severity } from '../../checks/finding.ts';
import { RANK } from '../../checks/grade.ts';
import type { Acceptance, Build, Expression, Margin, Requirement } from '../../model/build.ts';
import { resultsIn } from '../../model/expressions.ts';
import type { Place } from '../../model/place.ts';
import type { FindingChange } from './findings.ts';

export interface Relaxation {
  readonly what: 'requirement' | 'limit' | 'acceptance' | 'severity';
  /** `changed`: whether it asks less cannot be told. */
  readonly how: 'taken away' | 'loosened' | 'changed' | 'added' | 'widened' | 'lowered' | 'no longer raised';
  /** The part whose limit it is: `motor M1104`. */
  readonly of?: string;
  /** As written. */
  readonly before?: string;
  readonly after?: string;
  /** In the new version; in the old one when it is gone. */
  readonly place: Place;
  /** Packs on which the requirement failed before. */
  readonly failedOn: readonly string[];
  /** The gravest finding that the acceptance newly accepts. */
  readonly accepts?: Severity;
}

/** One version of a build, with what was found and the words at a place. */
export interface Judgement {
  readonly build: Build;
  readonly findings: readonly Finding[];
  /** Places at which the files of its builds and rules do not parse. */
  readonly tears: number;
  /** Lines of a file that have an error. */
  readonly wrongLines: (uri: string) => readonly string[];
  readonly wordsAt: (place: Place) => string;
}

export function relaxations(before: Judgement, after: Judgement, changes: readonly FindingChange[]): Relaxation[] {
  return [
    ...(hidesMore(after, before) ? [] : weakened(before, after)),
    ...(hidesMore(before, after) ? [] : [...accepted(before, after, changes), ...lowered(before, after)]),
  ];
}

/** What cannot be read on one side only is told as such: nothing is known to be gone from there, or to have come. */
const hidesMore = (one: Judgement, other: Judgement): boolean =>
  one.tears > other.tears || HOLES.some((hole) => one.build.holes.has(hole) && !other.build.holes.has(hole));

/** Behind which further requirements, rules or acceptances may stand. */
const HOLES = ['like', 'rules'] as const;

/** What a line asks: all of its terms, on one pack or on all. */
interface Asked {
  readonly terms: readonly Term[];
  readonly pack?: string;
  /** What it is about: lines that have some in common may have replaced one another. */
  readonly about: readonly string[];
  readonly place: Place;
}

interface Term {
  readonly subject: string;
  /** What the subject may be at most, SI; of a lower limit both are negated. None where it is no plain limit. */
  readonly bound?: number;
}

function weakened(before: Judgement, after: Judgement): Relaxation[] {
  const old = askedOf(before.build);
  const now = askedOf(after.build);
  const come = now.filter((one) => !old.some((other) => implies([one], other) && implies([other], one)));
  return old.flatMap((asked): Relaxation[] => {
    const flown = after.build.packs.filter(({ name }) => asked.pack === undefined || asked.pack === name);
    const isKept = flown.every(({ name: pack }) => implies(now, { ...asked, pack }));
    if (isKept || isMistyped(asked, before, after)) return [];
    const partner = come.find(({ about }) => about.some((one) => asked.about.includes(one)));
    const told = {
      what: 'requirement',
      before: before.wordsAt(asked.place),
      failedOn: failedOn(before.findings, asked.place),
    } as const;
    if (!partner) return [{ ...told, how: 'taken away', place: asked.place }];
    come.splice(come.indexOf(partner), 1);
    const how = implies([asked], partner) ? 'loosened' : 'changed';
    return [{ ...told, how, after: after.wordsAt(partner.place), place: partner.place }];
  });
}

/** A line that has an error now is told as such. */
function isMistyped({ about, place }: Asked, before: Judgement, after: Judgement): boolean {
  const words = ['require', 'keep', ...about];
  const count = ({ wrongLines }: Judgement) =>
    wrongLines(place.uri).filter((line) => words.some((word) => line.includes(word))).length;
  return count(after) > count(before);
}

const askedOf = ({ rules }: Pick<Build, 'rules'>): Asked[] => [
  ...rules.requirements.map(ofRequirement),
  ...rules.margins.map(ofMargin),
];

const ofRequirement = ({ condition, pack, place }: Requirement): Asked => ({
  terms: termsOf(condition),
  ...(pack !== undefined && { pack }),
  about: [...resultsIn(condition)],
  place,
});

const ofMargin = ({ limit, share, place }: Margin): Asked => ({
  terms: [{ subject: `in hand on ${limit}`, bound: -share }],
  about: [`in hand on ${limit}`],
  place,
});

/** What the requirement or margin at a place limits, and from which side; the same whatever its numbers are. */
export function askedAt({ rules }: Build, place: Place): string | undefined {
  const asked = askedOf({ rules }).find((one) => isSame(one.place, place));
  return asked?.terms
    .map(({ subject }) => subject.replace(/(?<!\w)-?\d[\d.e+-]*/g, '#'))
    .sort()
    .join('; ');
}

function termsOf(condition: Expression, isNegated = false): Term[] {
  if (condition.kind === 'not') return termsOf(condition.operand, !isNegated);
  if (condition.kind === (isNegated ? 'or' : 'and') && 'operands' in condition)
    return condition.operands.flatMap((operand) => termsOf(operand, isNegated));
  if (condition.kind === 'comparison') {
    const { operator, left, right } = condition;
    const sign = (operator === '<' || operator === '<=') !== isNegated ? 1 : -1;
    if (right.kind === 'quantity') return [termOf(left, sign, right.figure.value)];
    if (left.kind === 'quantity') return [termOf(right, -sign, left.figure.value)];
  }
  return [{ subject: isNegated ? `not ${sense(condition)}` : sense(condition) }];
}

const termOf = (subject: Expression, sign: number, limit: number): Term => ({
  subject: `${sign > 0 ? '' : '-'}${sense(subject)}`,
  bound: sign * limit,
});

/** The same for expressions that differ in units, layout or the side on which things stand only. */
function sense(expression: Expression): string {
  switch (expression.kind) {
    case 'quantity':
      return String(Number(expression.figure.value.toPrecision(DIGITS)));
    case 'result':
      return expression.name;
    case 'negate':
    case 'not':
      return `${expression.kind} (${sense(expression.operand)})`;
    case 'extreme':
      return `${expression.call} (${expression.arguments.map(sense).sort().join(', ')})`;
    case 'and':
    case 'or':
      return `(${expression.operands.map(sense).sort().join(` ${expression.kind} `)})`;
    default: {
      const { left, operator, right } = expression;
      if (operator === '>' || operator === '>=')
        return `(${sense(right)} ${operator.replace('>', '<')} ${sense(left)})`;
      return `(${sense(left)} ${operator} ${sense(right)})`;
    }
  }
}

/** Of a quantity that is written in another unit. */
const DIGITS = 12;

/** Whether all that is asked by a line is asked by others together. */
function implies(others: readonly Asked[], { terms, pack }: Asked): boolean {
  const there = others
    .filter((other) => other.pack === undefined || other.pack === pack)
    .flatMap((other) => other.terms);
  return terms.every((term) => there.some((other) => other.subject === term.subject && isWithin(other, term)));
}

function isWithin({ bound: one }: Term, { bound: other }: Term): boolean {
  if (one === undefined || other === undefined) return one === other;
  return one <= other + Math.abs(other) * 10 ** -DIGITS;
}

function failedOn(findings: readonly Finding[], place: Place): string[] {
  const failing = findings.filter(
    (finding) =>
      finding.accepted === undefined &&
      RANK[finding.severity] >= RANK.warning &&
      [finding.place, ...finding.related.map((related) => related.place)].some((one) => isSame(one, place)),
  );
  return [...new Set(failing.flatMap(({ pack, packs }) => packs ?? pack ?? []))];
}

export const isSame = (one: Place, other: Place): boolean => one.uri === other.uri && one.start === other.start;

function accepted(before: Judgement, after: Judgement, changes: readonly FindingChange[]): Relaxation[] {
  const old = before.build.acceptances;
  return after.build.acceptances
    .filter((acceptance) => !old.some((other) => covers(other, acceptance)))
    .map((acceptance): Relaxation => {
      const previous = old.find(({ finding }) => finding === acceptance.finding);
      const [gravest] = changes
        .filter((change) => change.status === 'accepted' && concerns(acceptance, change))
        .map(({ finding }) => finding.severity)
        .sort((one, other) => RANK[other] - RANK[one]);
      return {
        what: 'acceptance',
        how: previous ? 'widened' : 'added',
        ...(previous && { before: before.wordsAt(previous.place) }),
        after: after.wordsAt(acceptance.place),
        place: acceptance.place,
        failedOn: [],
        ...(gravest && { accepts: gravest }),
      };
    });
}

/** Whether one accepts all that the other does. */
const covers = (one: Acceptance, other: Acceptance): boolean =>
  one.finding === other.finding &&
  (one.pack === undefined || one.pack === other.pack) &&
  (one.below === undefined || (other.below !== undefined && other.below.value <= one.below.value));

const concerns = ({ finding: id, pack }: Acceptance, { finding, packs }: FindingChange): boolean =>
  finding.id === id && (pack === undefined || packs.includes(pack));

function lowered(before: Judgement, after: Judgement): Relaxation[] {
  const old = new Map(before.build.rules.severities.map((rule) => [rule.finding, rule]));
  const now = new Map(after.build.rules.severities.map((rule) => [rule.finding, rule]));
  return [...new Set([...old.keys(), ...now.keys()])].flatMap((finding): Relaxation[] => {
    const previous = old.get(finding);
    const rule = now.get(finding);
    const isLower = previous
      ? previous.to !== rule?.to && (rule ? RANK[rule.to] < RANK[previous.to] : previous.verb === 'raise')
      : rule?.verb === 'lower';
    const place = (rule ?? previous)?.place;
    if (!isLower || !place) return [];
    return [
      {
        what: 'severity',
        how: rule ? 'lowered' : 'no longer raised',
        ...(previous && { before: before.wordsAt(previous.place) }),
        ...(rule && { after: after.wordsAt(rule.place) }),
        place,
        failedOn: [],
      },
    ];
  });
}
