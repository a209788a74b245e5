/** What others see of a part without naming it: when that changes, they have to be read again. */
import { CstUtils } from 'langium';
import {
  isNamedNode,
  isObservedNode,
  isPropertyNode,
  type NamedNode,
  type PartNode,
} from '../grammar/generated/ast.ts';
import { nameText } from '../syntax/source.ts';

export type Declared =
  | { readonly of: 'part'; readonly kind: string; readonly name: string }
  /** A propeller on a test stand, with all that the stand states: with its rows, whoever names that propeller changes. */
  | { readonly of: 'measured'; readonly name: string; readonly tokens: string }
  /** A build on which something was observed: all that it states decides what others learn from it. */
  | { readonly of: 'observed'; readonly tokens: string };

/** Each part, in order, and what was measured on it. */
export function signature(entries: readonly { readonly name: string; readonly part: PartNode }[]): Declared[] {
  return entries.flatMap(({ name, part }): Declared[] => [
    { of: 'part', kind: part.kind, name },
    ...propellersOf(part).map((named) => ({
      of: 'measured' as const,
      name: lastStep(named),
      tokens: tokensOf(part),
    })),
    ...(isObservedBuild(part) ? [{ of: 'observed' as const, tokens: tokensOf(part) }] : []),
  ]);
}

/** Without comments and white space. The sort of each is part of it: a word may mean something else at the start of a line. */
function tokensOf({ $cstNode }: PartNode): string {
  const leaves = $cstNode ? CstUtils.flattenCst($cstNode).toArray() : [];
  return JSON.stringify(leaves.filter(({ hidden }) => !hidden).map(({ tokenType, text }) => [tokenType.name, text]));
}

export const isObservedBuild = ({ kind, lines }: PartNode): boolean => kind === 'build' && lines.some(isObservedNode);

/** The names of propellers on a test stand. */
export function propellersOf(part: PartNode): NamedNode[] {
  if (part.kind !== 'bench') return [];
  return part.lines
    .filter(isPropertyNode)
    .flatMap(({ key, value }) => (key === 'propeller' && isNamedNode(value) ? [value] : []));
}

/** Behind the name under which a folder is opened. */
const lastStep = (named: NamedNode): string => nameText(named).split('.').at(-1) ?? '';

/** Declarations that one side has more often than the other: a second one of a name makes a duplicate. */
export function declaredMoreOften(before: readonly Declared[], now: readonly Declared[]): Declared[] {
  const balance = new Map<string, { readonly declared: Declared; count: number }>();
  const add = (declared: Declared, count: number): void => {
    const key = JSON.stringify(declared);
    const known = balance.get(key) ?? { declared, count: 0 };
    known.count += count;
    balance.set(key, known);
  };
  for (const declared of before) add(declared, -1);
  for (const declared of now) add(declared, 1);
  return [...balance.values()].flatMap(({ declared, count }) => (count === 0 ? [] : declared));
}
