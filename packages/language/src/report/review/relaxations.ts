/**
 * Where a build requires less, or forgives more, than before: requirements and margins that went or got weaker, other rules that are milder,
 * findings that are accepted or lowered. Found from what the lines mean: rewritten, moved, or covered by a stricter line they are no
 * relaxation.
 */

import { type Finding, packsOf } from '../../checks/finding.ts';
import type { Acceptance, Build, Figure, Rules, SeverityChange } from '../../model/build.ts';
import { isSameStart, type Place } from '../../syntax/place.ts';
import { atLeast, isGraver, type Severity, worstFirst } from '../../vocabulary/severities.ts';
import { type Restore, withRules } from './as-before.ts';
import type { FindingChange } from './finding-changes.ts';
import { type RequiredLine, requiredOf, type Term, WRITTEN_DIGITS } from './required.ts';
import { statedFigure } from './stated-limits.ts';

export interface Relaxation {
  readonly what:
    | 'requirement'
    | 'rule'
    | 'flight'
    | 'limit'
    | 'figure'
    | 'measurement'
    | 'part'
    | 'facts'
    | 'acceptance'
    | 'severity';
  /**
   * `changed`: whether it requires less is open. `called measured`: with no rows and no observation behind it. `exchanged`: of a part, for one
   * that is allowed more. `restated`: facts of a part, other ones than before.
   */
  readonly how:
    | 'taken away'
    | 'loosened'
    | 'raised'
    | 'changed'
    | 'called measured'
    | 'rewritten'
    | 'exchanged'
    | 'restated'
    | 'narrowed'
    | 'widened'
    | 'added'
    | 'lowered'
    | 'no longer raised';
  /** The part whose limit or figure it is: `motor M1606`. */
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
  /** What the new craft would be found with, had this stayed as it was; gravest first. */
  readonly hides: readonly Hidden[];
  /** What it hides it hides only with others. */
  readonly isJoint?: true;
}

/** A finding that is gone, accepted or milder only because something else is permitted. */
export interface Hidden {
  readonly id: string;
  /** Without the change. */
  readonly severity: Severity;
  /** With it, where it is milder. */
  readonly now?: Severity;
  readonly message: string;
  readonly pack?: string;
}

/** What was loosened, before it is known what that hides. */
export interface Loosening {
  readonly reported: Omit<Relaxation, 'hides'>;
  /** Whether it is reported, too, where it hides nothing. */
  readonly isAlways: boolean;
  readonly restore: Restore;
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

export function relaxations(before: Judgement, after: Judgement, changes: readonly FindingChange[]): Loosening[] {
  return [
    ...(hidesMore(after, before) ? [] : [...weakened(before, after), ...milder(before, after)]),
    ...(hidesMore(before, after)
      ? []
      : [...accepted(before, after, changes), ...lowered(before.build.rules.severities, before.wordsAt, after)]),
  ];
}

/** What cannot be read on one side only is reported as such: nothing is known to be gone from there, or to have come. */
const hidesMore = (one: Judgement, other: Judgement): boolean =>
  one.tears > other.tears || HOLES.some((hole) => one.build.holes.has(hole) && !other.build.holes.has(hole));

/** Behind which further requirements, rules or acceptances may come. */
const HOLES = ['like', 'rules'] as const;

function weakened(before: Judgement, after: Judgement): Loosening[] {
  const old = requiredOf(before.build);
  const now = requiredOf(after.build);
  const come = now.filter((one) => !old.some((other) => implies([one], other) && implies([other], one)));
  return old.flatMap((required): Loosening[] => {
    const flown = after.build.packs.filter(({ name }) => required.pack === undefined || required.pack === name);
    const isKept = flown.every(({ name: pack }) => implies(now, { ...required, pack }));
    if (isKept || isMistyped(required, before, after)) return [];
    const partner = come.find(({ about }) => about.some((one) => required.about.includes(one)));
    const reported = {
      what: 'requirement',
      before: before.wordsAt(required.place),
      failedOn: failedOn(before.findings, required.place),
    } as const;
    const loosening = { isAlways: true, restore: required.again(nowhere(required.place)) } as const;
    if (!partner) return [{ ...loosening, reported: { ...reported, how: 'taken away', place: required.place } }];
    come.splice(come.indexOf(partner), 1);
    const how = implies([required], partner) ? 'loosened' : 'changed';
    return [
      { ...loosening, reported: { ...reported, how, after: after.wordsAt(partner.place), place: partner.place } },
    ];
  });
}

/** A place of the file at which the new version has nothing. */
const nowhere = ({ uri, start }: Place): Place => ({ uri, start: -1 - start, end: -1 - start });

/** A line that has an error now is reported as such. */
function isMistyped({ about, place }: RequiredLine, before: Judgement, after: Judgement): boolean {
  const words = ['require', 'keep', ...about];
  const count = ({ wrongLines }: Judgement) =>
    wrongLines(place.uri).filter((line) => words.some((word) => line.includes(word))).length;
  return count(after) > count(before);
}

type RuleFigure = 'reserve' | 'burstMultiple' | 'groundTime' | 'tilt' | 'airTemperature' | 'altitude' | 'humidity';

/** Figures of the rules, and the direction in which they require less; of the air neither is known to. */
const RULE_FIGURES: readonly (readonly [RuleFigure, -1 | 0 | 1])[] = [
  ['reserve', -1],
  ['burstMultiple', -1],
  ['groundTime', -1],
  ['tilt', 1],
  ['airTemperature', 0],
  ['altitude', 0],
  ['humidity', 0],
];

/** What the craft is judged by in addition to its requirements: the reserve, what counts as a burst, the air. */
function milder(before: Judgement, after: Judgement): Loosening[] {
  const [old, now] = [before.build.rules, after.build.rules];
  const figures = RULE_FIGURES.flatMap(([name, side]): Loosening[] => {
    const [was, is] = [old[name], now[name]];
    if ((was && statedFigure(was)) === (is && statedFigure(is))) return [];
    const isMilder = was !== undefined && is !== undefined && side * (is.value - was.value) > 0;
    return [ruleLoosening([was], [is], isMilder, before, after, (rules) => withRuleFigure(rules, name, was))];
  });
  const phases = (rules: Rules) => rules.flown.flatMap(({ share, hoverMultiple }) => [share, hoverMultiple]);
  const values = (rules: Rules) => phases(rules).map(({ value }) => value);
  const flown =
    values(old).join() === values(now).join()
      ? []
      : [ruleLoosening(phases(old), phases(now), false, before, after, (rules) => ({ ...rules, flown: old.flown }))];
  return [...figures, ...flown];
}

/** Where nobody states it, there is none. */
type UnstatedFigure = { [Name in RuleFigure]: undefined extends Rules[Name] ? Name : never }[RuleFigure];

const MAY_LACK: Readonly<Record<UnstatedFigure, true>> = { reserve: true, tilt: true, humidity: true };

const mayLack = (name: RuleFigure): name is UnstatedFigure => Object.hasOwn(MAY_LACK, name);

/** What was not reported before is not reported again. */
function withRuleFigure(rules: Rules, name: RuleFigure, figure: Figure | undefined): Rules {
  if (figure) return { ...rules, [name]: figure };
  if (!mayLack(name)) return rules;
  const { [name]: _, ...others } = rules;
  return others;
}

function ruleLoosening(
  was: readonly (Figure | undefined)[],
  is: readonly (Figure | undefined)[],
  isMilder: boolean,
  before: Judgement,
  after: Judgement,
  change: (rules: Rules) => Rules,
): Loosening {
  const written = (figures: readonly (Figure | undefined)[], { wordsAt }: Judgement) => {
    const words = figures.flatMap((figure) => (figure?.place ? [`${figure.label}: ${wordsAt(figure.place)}`] : []));
    return words.length > 0 ? words.join(', ') : undefined;
  };
  const [old, now] = [written(was, before), written(is, after)];
  const placed = [...is, ...was].find((figure) => figure?.place)?.place;
  return {
    reported: {
      what: 'rule',
      how: isMilder ? 'loosened' : 'changed',
      ...(old !== undefined && { before: old }),
      ...(now !== undefined && { after: now }),
      place: placed ?? after.build.place,
      failedOn: [],
    },
    isAlways: isMilder,
    restore: withRules(change),
  };
}

/** Whether others together require all that a line requires. */
function implies(others: readonly RequiredLine[], { terms, pack }: RequiredLine): boolean {
  const there = others
    .filter((other) => other.pack === undefined || other.pack === pack)
    .flatMap((other) => other.terms);
  return terms.every((term) => there.some((other) => other.subject === term.subject && isWithin(other, term)));
}

function isWithin({ bound: one }: Term, { bound: other }: Term): boolean {
  if (one === undefined || other === undefined) return one === other;
  return one <= other + Math.abs(other) * 10 ** -WRITTEN_DIGITS;
}

function failedOn(findings: readonly Finding[], place: Place): string[] {
  const failing = findings.filter(
    (finding) =>
      finding.accepted === undefined &&
      atLeast(finding.severity, 'warning') &&
      [finding.place, ...finding.related.map((related) => related.place)].some((one) => isSameStart(one, place)),
  );
  return [...new Set(failing.flatMap(packsOf))];
}

function accepted(before: Judgement, after: Judgement, changes: readonly FindingChange[]): Loosening[] {
  const old = before.build.acceptances;
  return after.build.acceptances
    .filter((acceptance) => !old.some((other) => covers(other, acceptance)))
    .map((acceptance): Loosening => {
      const previous = old.find(({ finding }) => finding === acceptance.finding);
      const [gravest] = changes
        .filter((change) => change.status === 'accepted' && concerns(acceptance, change))
        .map(({ finding }) => finding)
        .sort(worstFirst);
      return {
        reported: {
          what: 'acceptance',
          how: previous ? 'widened' : 'added',
          ...(previous && { before: before.wordsAt(previous.place) }),
          after: after.wordsAt(acceptance.place),
          place: acceptance.place,
          failedOn: [],
          ...(gravest && { accepts: gravest.severity }),
        },
        isAlways: true,
        restore: (build) => ({
          ...build,
          acceptances: [
            ...build.acceptances.filter(({ place }) => !isSameStart(place, acceptance.place)),
            ...(previous ? [{ ...previous, place: nowhere(previous.place) }] : []),
          ],
        }),
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

/** Of a build that comes: findings that rules lower which no build had before. */
export const loweredAnew = (known: readonly SeverityChange[], after: Judgement): Loosening[] =>
  lowered(known, () => '', after).map((one) => ({ ...one, isAlways: false }));

function lowered(known: readonly SeverityChange[], wordsBefore: Judgement['wordsAt'], after: Judgement): Loosening[] {
  const old = new Map(known.map((rule) => [rule.finding, rule]));
  const now = new Map(after.build.rules.severities.map((rule) => [rule.finding, rule]));
  return [...new Set([...old.keys(), ...now.keys()])].flatMap((finding): Loosening[] => {
    const previous = old.get(finding);
    const rule = now.get(finding);
    const isLower = previous
      ? previous.to !== rule?.to && (rule ? isGraver(previous.to, rule.to) : previous.verb === 'raise')
      : rule?.verb === 'lower';
    const place = (rule ?? previous)?.place;
    if (!isLower || !place) return [];
    return [
      {
        reported: {
          what: 'severity',
          how: rule ? 'lowered' : 'no longer raised',
          ...(previous && { before: wordsBefore(previous.place) }),
          ...(rule && { after: after.wordsAt(rule.place) }),
          place,
          failedOn: [],
        },
        isAlways: true,
        restore: withRules((rules) => ({
          ...rules,
          severities: [...rules.severities.filter((one) => one.finding !== finding), ...(previous ? [previous] : [])],
        })),
      },
    ];
  });
}
