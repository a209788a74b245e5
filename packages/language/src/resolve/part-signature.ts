/** What others see of a part without naming it: when that changes, they have to be read again. */
import { isNamed, isObserved, isProperty, type Named, type Part } from '../grammar/generated/ast.ts';
import { nameText } from '../syntax/source.ts';

/** Kind and name of each part, in order, and what was measured on it. */
export function signature(entries: readonly { readonly name: string; readonly part: Part }[]): string[] {
  return entries.flatMap(({ name, part }) => [
    `${part.kind} ${name}`,
    ...measuredNames(part),
    ...(isObservedBuild(part) ? [`${OBSERVED}${withoutSpace(part)}`] : []),
  ]);
}

/** Begins the signature of a build on which something was observed: the whole of its text decides what others learn from it. */
export const OBSERVED = 'observed ';

const withoutSpace = ({ $cstNode }: Part): string => $cstNode?.text.replace(/\s+/g, '') ?? '';

export const isObservedBuild = ({ kind, lines }: Part): boolean => kind === 'build' && lines.some(isObserved);

/** The names of propellers on a test stand. */
export function propellersOf(part: Part): Named[] {
  if (part.kind !== 'bench') return [];
  return part.lines
    .filter(isProperty)
    .flatMap(({ key, value }) => (key === 'propeller' && isNamed(value) ? [value] : []));
}

/** A test stand describes its propeller: with its rows, whoever names that propeller changes. */
function measuredNames(part: Part): string[] {
  const rows = withoutSpace(part);
  return propellersOf(part).map((named) => `${rows} ${nameText(named).split('.').at(-1)}`);
}

/** Declarations that one side has more often than the other: a second one of a name makes a duplicate. */
export function difference(before: readonly string[], now: readonly string[]): string[] {
  const balance = new Map<string, number>();
  for (const declared of before) balance.set(declared, (balance.get(declared) ?? 0) - 1);
  for (const declared of now) balance.set(declared, (balance.get(declared) ?? 0) + 1);
  return [...balance].filter(([, count]) => count !== 0).map(([declared]) => declared);
}
