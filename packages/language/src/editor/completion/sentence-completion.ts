/** What may be in `require`, `keep`, `accept`, `raise`, `lower`, `note` and `observed`. */

import type { IToken } from 'chevrotain';
import { CompletionItemKind } from 'vscode-languageserver-types';
import { COMPARISON_SIGNS } from '../../syntax/comparison-signs.ts';
import * as shapes from '../../syntax/sentence-shapes.ts';
import { describeFinding, FINDING_IDS } from '../../vocabulary/findings.ts';
import { LIMITS } from '../../vocabulary/limits.ts';
import {
  FLIGHT_RESULTS,
  RAIL_RESULTS,
  RESULTS,
  type ResultSchema,
  readResult,
  schemaOfResult,
} from '../../vocabulary/results.ts';
import { SEVERITIES } from '../../vocabulary/severities.ts';
import { OCCASIONS } from '../../vocabulary/words.ts';
import { keywordOffer, type Offer, wordOffers } from './offer.ts';
import { type Expectation, segmentAt, unitOffers } from './value-completion.ts';

/** What a sentence needs to know of the build around it. */
export interface Surroundings {
  readonly packs: () => Offer[];
  readonly rails: () => Offer[];
  readonly flights: () => Offer[];
  readonly members: (owner: string) => Offer[];
}

export function sentenceOffers(head: IToken, before: readonly IToken[], offset: number, around: Surroundings): Offer[] {
  const { clause, behind } = segmentAt(before);
  if (clause === 'with') return behind.length === 0 ? around.packs() : [BECAUSE];
  if (clause === 'because') return [];
  switch (head.tokenType.name) {
    case 'require':
      return requirementOffers(before, offset, around);
    case 'keep':
      return keepOffers(before, clause, behind);
    case 'accept':
      return before.length === 0 ? findingOffers() : [...(clause === undefined ? [BELOW, WITH] : [WITH]), BECAUSE];
    case 'raise':
    case 'lower':
      return changeOffers(before, clause, behind);
    case 'note':
      return noteOffers(before, clause, behind);
    case 'observed':
      return clause === undefined && before.length > 0 ? [WITH] : [];
    default:
      return [];
  }
}

const BECAUSE = keywordOffer('because', shapes.BECAUSE.description, { text: 'because ', snippet: 'because "$1"' });
const WITH = keywordOffer('with', shapes.ON_PACK.description, { text: 'with ' });
const BELOW = keywordOffer('below', shapes.UP_TO.description, { text: 'below ' });

// ---- require ----

const OPERATORS: ReadonlySet<string> = new Set([
  '<',
  '<=',
  '>',
  '>=',
  '+',
  '-',
  '*',
  '/',
  'and',
  'or',
  'not',
  '(',
  ',',
]);

function requirementOffers(before: readonly IToken[], offset: number, around: Surroundings): Offer[] {
  const last = before.at(-1);
  const name = last?.tokenType.name;
  if (last === undefined || name === undefined || OPERATORS.has(name)) {
    return [...resultOffers(), RAIL, FLIGHT, ...FUNCTIONS];
  }
  if (name === '.') return stepOffers(before, around);
  if (name === 'NUMBER') return [...unitOffers(expectedIn(before), last, offset), ...operatorOffers(before)];
  return operatorOffers(before);
}

function resultOffers(): Offer[] {
  return RESULTS.map(({ name, label, unit, description }) => ({
    label: name,
    kind: CompletionItemKind.Function,
    detail: unit === '' ? label : `${label}, ${unit}`,
    documentation: description,
    group: 0,
  }));
}

const RAIL: Offer = {
  label: 'rail',
  kind: CompletionItemKind.Module,
  text: 'rail.',
  detail: 'rail.<name>.voltage',
  documentation: 'What a rail or regulator delivers.',
  group: 1,
};

const FLIGHT: Offer = {
  label: 'flight',
  kind: CompletionItemKind.Module,
  text: 'flight.',
  detail: 'flight.<name>.charge_left',
  documentation: 'What a flight in legs takes, and what it leaves.',
  group: 1,
};

const FUNCTIONS: readonly Offer[] = [
  { label: 'min', kind: CompletionItemKind.Function, snippet: 'min($1, $2)', text: 'min(', group: 2 },
  { label: 'max', kind: CompletionItemKind.Function, snippet: 'max($1, $2)', text: 'max(', group: 2 },
  { label: 'not', kind: CompletionItemKind.Keyword, snippet: 'not ($1)', text: 'not (', group: 2 },
];

/** Behind a dot: rails or flights, then (behind one of them, or a regulator) what is known of it. */
function stepOffers(before: readonly IToken[], around: Surroundings): Offer[] {
  const steps: string[] = [];
  for (let index = before.length - 1; before[index]?.tokenType.name === '.'; index -= 2) {
    steps.unshift(before[index - 1]?.image ?? '');
  }
  const [kind, owner] = steps;
  if (kind === 'flight') return owner === undefined ? around.flights() : offersOf(FLIGHT_RESULTS);
  if (kind !== 'rail') return [];
  if (owner === undefined) return around.rails();
  const results = offersOf(RAIL_RESULTS);
  return steps.length === 2 ? [...around.members(owner), ...results] : results;
}

const offersOf = (results: readonly ResultSchema<string>[]): Offer[] =>
  results.map(({ name, description }) => ({
    label: name,
    kind: CompletionItemKind.Function,
    group: 1,
    documentation: description,
  }));

/** The result that is named last. */
function lastResult(tokens: readonly IToken[]): ResultSchema | undefined {
  for (let end = tokens.length; end > 0; end--) {
    const steps = [tokens[end - 1]?.image ?? ''];
    while (tokens[end - 2]?.tokenType.name === '.') {
      steps.unshift(tokens[end - 3]?.image ?? '');
      end -= 2;
    }
    const key = readResult(steps);
    if (key) return schemaOfResult(key);
  }
  return undefined;
}

/** The unit of the result that the number is compared with. */
function expectedIn(before: readonly IToken[]): Expectation {
  const compared = before.findLastIndex((token) => COMPARISON_SIGNS.has(token.tokenType.name));
  const result = lastResult(compared < 0 ? before : before.slice(0, compared)) ?? lastResult(before);
  const unit = result === undefined ? '' : result.unit;
  return {
    shape: 'quantity',
    dimension: result === undefined ? undefined : result.dimension,
    units: unit === '' ? [] : [unit],
    words: [],
    parts: [],
  };
}

function operatorOffers(before: readonly IToken[]): Offer[] {
  const compared = before.findLastIndex((token) => token.tokenType.name === 'and' || token.tokenType.name === 'or');
  const hasComparison = before.slice(compared + 1).some((token) => COMPARISON_SIGNS.has(token.tokenType.name));
  const operators = hasComparison ? ['and', 'or', '+', '-', '*', '/'] : ['>=', '<=', '>', '<', '+', '-', '*', '/'];
  const offers = operators.map((label) => ({ label, kind: CompletionItemKind.Operator, text: `${label} `, group: 1 }));
  return hasComparison ? [...offers, WITH, BECAUSE] : offers;
}

// ---- the others ----

function keepOffers(before: readonly IToken[], clause: string | undefined, behind: readonly IToken[]): Offer[] {
  if (clause === 'on') {
    // Of what is there already, `motor.`, the rest is offered.
    const written = behind.map(({ image }) => image).join('');
    return Object.entries(LIMITS)
      .filter(([label]) => label.startsWith(written))
      .map(([label, documentation]) => ({
        label: label.slice(written.length),
        kind: CompletionItemKind.EnumMember,
        documentation,
        group: 0,
      }));
  }
  if (clause === 'in') {
    const rest = behind.length === 0 ? 'reserve on' : 'on';
    return [{ label: rest, kind: CompletionItemKind.Keyword, text: `${rest} `, group: 0 }];
  }
  const last = before.at(-1)?.tokenType.name;
  if (last === 'NUMBER') return [{ label: '%', kind: CompletionItemKind.Unit, text: '% ', group: 0 }];
  return last === 'UNIT'
    ? [{ label: 'in reserve on', kind: CompletionItemKind.Keyword, text: 'in reserve on ', group: 0 }]
    : [];
}

function findingOffers(): Offer[] {
  return FINDING_IDS.map((label) => {
    const documentation = describeFinding(label);
    return { label, kind: CompletionItemKind.EnumMember, group: 0, ...(documentation && { documentation }) };
  });
}

function changeOffers(before: readonly IToken[], clause: string | undefined, behind: readonly IToken[]): Offer[] {
  if (before.length === 0) return findingOffers();
  if (clause === 'to') return behind.length === 0 ? wordOffers(SEVERITIES, 'severity') : [BECAUSE];
  return [keywordOffer('to', shapes.NEW_SEVERITY.description, { text: 'to ' })];
}

function noteOffers(before: readonly IToken[], clause: string | undefined, behind: readonly IToken[]): Offer[] {
  if (clause === 'for') return behind.length === 0 ? wordOffers(Object.keys(OCCASIONS), 'list') : [];
  return before.length > 0 && clause === undefined
    ? [keywordOffer('for', shapes.OCCASION.description, { text: 'for ' })]
    : [];
}
