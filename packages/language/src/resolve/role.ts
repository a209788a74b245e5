/**
 * What a name may refer to at its place. Names that *declare* (`esc: Board35`, `like M1`) are looked up among parts only; names that *use*
 * (`from Board35.video`, `with Gentle`) look at what the build has already named. Keeping the two apart is what keeps looking up free of circles.
 */
import type { AstNode } from 'langium';
import {
  type Condition,
  isCondition,
  isFigureNode,
  isObservedNode,
  isPartNode,
  isPropertyNode,
  isRailNode,
  isResultNode,
  type PropertyNode,
} from '../grammar/generated/ast.ts';
import { type ShapedProperty, schemaOf } from '../vocabulary/properties.ts';
import { type BlockKind, isKind, type Kind, type Property as PropertyRule } from '../vocabulary/schema.ts';
import type { Holder } from './reference.ts';

export type Role =
  /** A part of one of these kinds, declared in the folder or in an opened one; or one of these words. */
  | { readonly sort: 'part'; readonly kinds: readonly Kind[]; readonly words?: readonly string[] }
  /** What feeds something in a build: `pack`, a regulator, a rail of a board. */
  | { readonly sort: 'feed' }
  /** What feeds a rail: `pack` or another rail of the same board. */
  | { readonly sort: 'rail' }
  /** A pack option of the build. */
  | { readonly sort: 'option' }
  /** Something that the build is like brought in. */
  | { readonly sort: 'inherited' }
  /** A result: `hover_time`, `rail.video.voltage`. */
  | { readonly sort: 'result' }
  /** One of these words. */
  | { readonly sort: 'choice'; readonly of: string; readonly words: readonly string[] }
  /** Any word: a plug, a thread, a name on an unknown line. */
  | { readonly sort: 'word' };

const ANY_WORD: Role = { sort: 'word' };
const PACK: Role = { sort: 'part', kinds: ['pack'] };

export function roleOf(holder: Holder): Role {
  if (isResultNode(holder)) return { sort: 'result' };
  const around = isFigureNode(holder.$container) ? holder.$container.$container : holder.$container;
  if (isPartNode(around)) return { sort: 'part', kinds: [around.kind] };
  if (isPropertyNode(around)) return roleOfValue(around);
  if (isCondition(around)) return roleOfClause(around);
  return ANY_WORD;
}

function roleOfValue(line: PropertyNode): Role {
  const block = blockAround(line);
  if (block === 'build' && line.key === 'without') return { sort: 'inherited' };
  if (block === 'rail' && line.key === 'from') return { sort: 'rail' };
  if (block === 'shortlist' && line.key === 'prefer') return { sort: 'result' };
  const rule = ruleOf(line);
  return rule ? roleByRule(line.key, rule) : ANY_WORD;
}

function roleOfClause(clause: Condition): Role {
  const line = clause.$container;
  if (isPropertyNode(line)) {
    if (clause.word === 'from' && blockAround(line) === 'build') return { sort: 'feed' };
    if (clause.word === 'with' && line.key === 'flight' && blockAround(line) === 'build') return { sort: 'option' };
    if (clause.word === 'because' || clause.word === 'below') return ANY_WORD;
    const rule = ruleOf(line)?.clauses?.[clause.word];
    return rule ? roleByRule(`word after \`${clause.word}\``, rule) : ANY_WORD;
  }
  // Sentences: `require … with Gentle`, `accept … with Gentle`, `observed "…" with Gentle`. Outside a build there are no options: any pack.
  if (clause.word === 'with') return buildAround(line) ? { sort: 'option' } : PACK;
  return ANY_WORD;
}

function roleByRule(word: string, rule: Pick<PropertyRule, 'shape' | 'parts' | 'words'> | ClauseLike): Role {
  if ((rule.shape === 'part' || rule.shape === 'vary') && rule.parts)
    return { sort: 'part', kinds: rule.parts.filter(isKind), ...(rule.words && { words: rule.words }) };
  if (rule.shape === 'word' && rule.words) return { sort: 'choice', of: word, words: rule.words };
  return ANY_WORD;
}

interface ClauseLike {
  readonly shape: string;
  readonly parts?: readonly BlockKind[];
  readonly words?: readonly string[];
}

/** The table's entry for a line; undefined when it has none. */
export function ruleOf(line: PropertyNode): ShapedProperty | undefined {
  const block = blockAround(line);
  return block && schemaOf(block).properties[line.key];
}

function blockAround(line: AstNode): BlockKind | undefined {
  const block = line.$container;
  if (isPartNode(block)) return block.kind;
  if (isRailNode(block)) return 'rail';
  return isObservedNode(block) ? 'observed' : undefined;
}

function buildAround(line: AstNode): boolean {
  let block = line.$container;
  while (block && !isPartNode(block)) block = block.$container;
  return isPartNode(block) && block.kind === 'build';
}
