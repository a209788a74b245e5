/** Names the language had before are read as those it has now; where they are is kept for a hint. */
import { type AstNode, AstUtils } from 'langium';
import {
  type File,
  isFigure,
  isNamed,
  isObserved,
  isPart,
  isProperty,
  isRail,
  isResult,
  type Property,
} from '../grammar/generated/ast.ts';
import { formerProperty, formerWord, MAY_BE_FORMER } from '../vocabulary/former-names.ts';
import type { BlockKind } from '../vocabulary/schema.ts';
import type { Problem } from './problem.ts';
import { FettleReference } from './references/reference.ts';
import { placeOfFeature } from './source.ts';
import { problem, replace } from './text/report.ts';

interface Renewed {
  readonly former: string;
  readonly now: string;
  readonly node: AstNode;
  readonly feature: 'key' | 'head';
  /** A number that changed with the name. */
  readonly number?: string;
}

const renewedIn = new WeakMap<File, readonly Renewed[]>();

/** Gives each former name of a freshly read text its present one. */
export function renewNames(file: File, text: string): void {
  if (!MAY_BE_FORMER.test(text)) return;
  const renewed: Renewed[] = [];
  for (const node of AstUtils.streamAst(file)) {
    if (isProperty(node)) renewed.push(...renewProperty(node));
    else if (isResult(node) || (isNamed(node) && isProperty(node.$container))) {
      const reference: unknown = node.head;
      if (!(reference instanceof FettleReference)) continue;
      const former = reference.$refText;
      const now = formerWord(former);
      // `both` is a choice of one property; a part may bear the name.
      if (now === undefined || (!isResult(node) && (node.$container as Property).key !== 'type')) continue;
      reference.respell(now);
      renewed.push({ former, now, node, feature: 'head' });
    }
  }
  if (renewed.length > 0) renewedIn.set(file, renewed);
}

function renewProperty(line: Property): Renewed[] {
  const kind = blockOf(line.$container);
  const former = line.key;
  const next = kind && formerProperty(kind, former);
  if (!next) return [];
  line.key = next.name;
  const { value } = line;
  if (next.times === undefined || !isFigure(value)) return [{ former, now: next.name, node: line, feature: 'key' }];
  const number = String(Number(value.number) * next.times);
  if (!Number.isFinite(Number(number))) return [{ former, now: next.name, node: line, feature: 'key' }];
  value.number = number;
  return [{ former, now: next.name, node: line, feature: 'key', number }];
}

function blockOf(node: AstNode): BlockKind | undefined {
  if (isPart(node)) return node.kind;
  if (isRail(node)) return 'rail';
  return isObserved(node) ? 'observed' : undefined;
}

/** A hint for each former name, with the present one as its fix. */
export function formerNameProblems(file: File): Problem[] {
  return (renewedIn.get(file) ?? []).map(({ former, now, node, feature, number }) => {
    const place = placeOfFeature(node, feature);
    const fix = replace(place, now);
    const value = number !== undefined && isProperty(node) && isFigure(node.value) ? node.value : undefined;
    const edits = value && number !== undefined ? [{ place: placeOfFeature(value, 'number'), newText: number }] : [];
    const told = number === undefined ? '' : `, here ${number}`;
    return problem('former-name', `${former} is called ${now} now${told}; the old name is still understood`, place, [
      { ...fix, edits: [...fix.edits, ...edits] },
    ]);
  });
}
