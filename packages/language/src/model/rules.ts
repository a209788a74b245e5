/**
 * Rules of a build: its own lines beat its rules, line by line; between several rules the stricter wins. Order never decides.
 */

import {
  type ChangeNode,
  isChangeNode,
  isFigureNode,
  isKeep,
  isPropertyNode,
  isRequire,
  type Keep,
  type Line,
  type PartNode,
  type Require,
} from '../grammar/generated/ast.ts';
import { chainOf } from '../syntax/chain.ts';
import { conditionOf, nameBehind, textBehind } from '../syntax/clauses.ts';
import { remembered } from '../syntax/memory.ts';
import { startKey } from '../syntax/place.ts';
import { placeOf, textOf } from '../syntax/source.ts';
import { numberOf } from '../syntax/written-number.ts';
import { limitNamed, nameOfLimit } from '../vocabulary/limits.ts';
import { schemaOf } from '../vocabulary/properties.ts';
import type { BlockKind } from '../vocabulary/schema.ts';
import { isGraver, SEVERITIES } from '../vocabulary/severities.ts';
import type { Expression, Figure, FlightShare, Margin, Requirement, Rules, SeverityChange } from './build.ts';
import {
  bareShares,
  isJudgement,
  misplacedPart,
  type ResultInBuild,
  readExpression,
  renamed,
  resultsIn,
} from './expressions.ts';
import { conditionAmount, exactFigure, type Identity, readFigure } from './figures.ts';
import { identityOf, partOf } from './parts.ts';
import { ruleDefaults } from './rule-defaults.ts';

/** What one block states, with what it inherits. */
interface RuleSet {
  readonly reserve?: Figure;
  readonly air?: Figure;
  readonly humidity?: Figure;
  readonly burst?: Figure;
  readonly ground?: Figure;
  readonly tilt?: Figure;
  readonly flown: readonly FlightShare[];
  readonly requirements: readonly Requirement[];
  readonly margins: ReadonlyMap<string, Margin>;
  readonly severities: ReadonlyMap<string, SeverityChange>;
}

export function rulesOf(build: PartNode, named: readonly PartNode[], resultInBuild: ResultInBuild): Rules {
  const own = ruleSetOf(build);
  const sets = named.map(ruleSetOf);
  const figure = (pick: (set: RuleSet) => Figure | undefined, stricter: Stricter) =>
    pick(own) ?? strictest(sets.map(pick), stricter);

  const reserve = figure((set) => set.reserve, larger);
  const air = figure((set) => set.air, thinner) ?? ruleDefaults.air;
  const humidity = figure((set) => set.humidity, larger);
  const tilt = figure((set) => set.tilt, smaller);
  const flown = own.flown.length > 0 ? own.flown : hardestFlown(sets);
  return {
    ...(reserve ? { reserve } : {}),
    airTemperature: air,
    altitude: air.conditions.at ?? ruleDefaults.altitude,
    ...(humidity ? { humidity } : {}),
    burstMultiple: figure((set) => set.burst, larger) ?? ruleDefaults.burst,
    groundTime: figure((set) => set.ground, larger) ?? ruleDefaults.ground,
    ...(tilt ? { tilt } : {}),
    flown: flown.length > 0 ? flown : ruleDefaults.flown,
    requirements: eachOnce([own, ...sets].flatMap((set) => set.requirements)).map((one) =>
      withResultNames(one, resultInBuild),
    ),
    margins: combined(
      own.margins,
      sets.map((set) => set.margins),
      (one, other) => one.share > other.share,
    ),
    severities: combined(
      own.severities,
      sets.map((set) => set.severities),
      isMoreSevere,
    ),
  };
}

/** Several rules may be like one base. */
const eachOnce = (requirements: readonly Requirement[]): Requirement[] => [
  ...new Map(requirements.map((one) => [startKey(one.place), one])).values(),
];

type Stricter = (one: Figure, other: Figure) => boolean;

const larger: Stricter = (one, other) => one.value > other.value;

const smaller: Stricter = (one, other) => one.value < other.value;

/** An isothermal atmosphere is enough to decide which of two airs is thinner. */
const thinner: Stricter = (one, other) => densityOrder(one) < densityOrder(other);

const SCALE_HEIGHT = 8434.5;

function densityOrder(air: Figure): number {
  const { value: altitude } = air.conditions.at ?? ruleDefaults.altitude;
  return Math.exp(-altitude / SCALE_HEIGHT) / air.value;
}

function strictest(figures: readonly (Figure | undefined)[], stricter: Stricter): Figure | undefined {
  return figures.reduce((kept, figure) => (!kept || (figure && stricter(figure, kept)) ? figure : kept), undefined);
}

/** Power in hover goes with thrust to the power 1.5 (momentum theory). */
function hardestFlown(sets: readonly RuleSet[]): readonly FlightShare[] {
  const effort = (flown: readonly FlightShare[]) =>
    flown.reduce((sum, phase) => sum + phase.share.value * phase.hoverMultiple.value ** 1.5, 0);
  return sets.map((set) => set.flown).reduce((kept, flown) => (effort(flown) > effort(kept) ? flown : kept), []);
}

function combined<T>(
  own: ReadonlyMap<string, T>,
  sets: readonly ReadonlyMap<string, T>[],
  isStricter: (one: T, other: T) => boolean,
): T[] {
  const result = new Map<string, T>();
  for (const set of sets) {
    for (const [key, value] of set) {
      const kept = result.get(key);
      if (kept === undefined || isStricter(value, kept)) result.set(key, value);
    }
  }
  for (const [key, value] of own) result.set(key, value);
  return [...result.values()];
}

function isMoreSevere(one: SeverityChange, other: SeverityChange): boolean {
  return isGraver(one.to, other.to);
}

function withResultNames(requirement: Requirement, resultInBuild: ResultInBuild): Requirement {
  // Only rails go by different names in different builds.
  const isAboutRail = [...resultsIn(requirement.condition)].some(({ of }) => of?.of === 'rail');
  return isAboutRail ? { ...requirement, condition: renamed(requirement.condition, resultInBuild) } : requirement;
}

/** The `require` lines of a block and of those it is like. */
export const requirementsIn = (node: PartNode): readonly Requirement[] => ruleSetOf(node).requirements;

/** Many builds share their rules. */
const ruleSetOf = remembered(readRuleSet);

/** Along `like` the nearer block beats the farther one. */
function readRuleSet(node: PartNode): RuleSet {
  const chain = chainOf(node).parts;
  const part = partOf(node);
  const figures = {
    reserve: part.declared('reserve'),
    air: part.declared('air'),
    humidity: part.declared('humidity'),
    burst: part.declared('burst'),
    ground: part.declared('ground'),
    tilt: part.declared('tilt'),
  };
  const known = Object.fromEntries(Object.entries(figures).filter(([, figure]) => figure !== undefined));
  return {
    ...known,
    flown: chain.map(flownOf).find((flown) => flown.length > 0) ?? [],
    requirements: requirementsOf(chain),
    margins: nearest(
      chain,
      (block) => block.lines.filter(isKeep).map(readMargin),
      ({ limit }) => nameOfLimit(limit),
    ),
    severities: nearest(
      chain,
      (block) => block.lines.filter(isChangeNode).map(readChange),
      (change) => change.finding,
    ),
  };
}

/** A plain limit replaces the one that a farther block sets to the same result from the same side; all else adds. */
function requirementsOf(chain: readonly PartNode[]): Requirement[] {
  let kept: Requirement[] = [];
  for (const block of chain.toReversed()) {
    const own = block.lines
      .filter(isRequire)
      .map((line) => readRequirement(line, block))
      .filter((requirement) => requirement !== undefined)
      .map((requirement): Requirement => {
        const replaced = kept.find((other) => isSameLimit(requirement, other));
        return replaced ? { ...requirement, replaces: replaced } : requirement;
      });
    kept = [...own, ...kept.filter((other) => !own.some((requirement) => isSameLimit(requirement, other)))];
  }
  return kept;
}

function isSameLimit(one: Requirement, other: Requirement): boolean {
  const limited = limitedBy(one.condition);
  return limited !== undefined && limited === limitedBy(other.condition) && one.pack === other.pack;
}

/** Which result a plain comparison limits, and from which side: `hover_time >= 4 min`, either way round. */
function limitedBy(condition: Expression): string | undefined {
  if (condition.kind !== 'comparison') return undefined;
  const { left, right, operator } = condition;
  const isUpper = operator === '<' || operator === '<=';
  if (left.kind === 'result' && right.kind === 'quantity') return `${left.name} ${isUpper ? '<' : '>'}`;
  if (right.kind === 'result' && left.kind === 'quantity') return `${right.name} ${isUpper ? '>' : '<'}`;
  return undefined;
}

function nearest<T>(
  chain: readonly PartNode[],
  read: (block: PartNode) => (T | undefined)[],
  keyOf: (value: T) => string,
): Map<string, T> {
  const result = new Map<string, T>();
  for (const value of chain.flatMap(read)) {
    if (value !== undefined && !result.has(keyOf(value))) result.set(keyOf(value), value);
  }
  return result;
}

/** `flown: 25 % at 1.4 x hover`, one line a phase; the lines of a block belong together. */
const flownOf = (block: PartNode): FlightShare[] =>
  flightShares(block.lines, identityOf(block), block.kind, block.name ?? '');

/** @param id of the block, which the shares' own begin with */
export function flightShares(lines: readonly Line[], id: string, kind: BlockKind, part: string): FlightShare[] {
  const schema = schemaOf(kind).properties.flown;
  if (!schema) return [];
  const flown: FlightShare[] = [];
  for (const line of lines.filter(isPropertyNode)) {
    if (line.key !== 'flown') continue;
    const identity: Identity = {
      id: `${id}.flown[${flown.length}]`,
      label: `share of the flight (${textOf(line)})`,
      whose: { sort: 'property', kind, part, property: 'flown' },
    };
    const share = readFigure(line, schema, identity);
    const at = conditionOf(line, 'at');
    const multiple = at && conditionAmount(at, undefined);
    if (!share || !at || !multiple) continue;
    const label = `thrust over hover thrust (${textOf(at)})`;
    const multipleIdentity = { ...identity, id: `${identity.id}.at`, label };
    flown.push({ share, hoverMultiple: exactFigure(multipleIdentity, multiple, placeOf(at)) });
  }
  return flown;
}

function readRequirement(line: Require, block: PartNode): Requirement | undefined {
  const condition = readExpression(line.condition);
  if (!condition || !line.condition || !isJudgement(condition) || misplacedPart(condition)) return undefined;
  if ([...bareShares(condition)].length > 0) return undefined;
  const pack = nameBehind(line, 'with');
  const because = textBehind(line, 'because');
  const from = block.kind === 'rules' ? block.name : undefined;
  return {
    condition,
    text: textOf(line.condition).replace(/\s+/g, ' ').trim(),
    ...(pack === undefined ? {} : { pack }),
    ...(because === undefined ? {} : { because }),
    ...(from === undefined ? {} : { from }),
    place: placeOf(line),
  };
}

/** `keep 20 % in reserve on esc.continuous` */
function readMargin(line: Keep): Margin | undefined {
  const limit = limitNamed(nameBehind(line, 'on') ?? '');
  if (!isFigureNode(line.value) || line.value.unit !== '%' || limit === undefined) return undefined;
  const share = numberOf(line.value) / 100;
  return share >= 0 && share < 1 ? { share, limit, place: placeOf(line) } : undefined;
}

/** `lower pack-heavy to hint because "…"` */
function readChange(line: ChangeNode): SeverityChange | undefined {
  const to = SEVERITIES.find((severity) => severity === nameBehind(line, 'to'));
  if (line.finding === undefined || !to) return undefined;
  const because = textBehind(line, 'because');
  return {
    finding: line.finding,
    verb: line.verb,
    to,
    ...(because === undefined ? {} : { because }),
    place: placeOf(line),
  };
}
