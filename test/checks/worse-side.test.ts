/** On which side of its first number a finding is worse is stated in the vocabulary: the finding's own numbers have to show the same. */
import { describe, expect, it } from 'vitest';
import type { Finding, FindingNumber } from '../../packages/language/src/checks/finding.ts';
import { CHECKS } from '../../packages/language/src/checks/registry.ts';
import { CRAFT_FINDINGS, type CraftCheckId } from '../../packages/language/src/vocabulary/findings.ts';
import { checkedExample, EXAMPLE } from './findings-in.ts';

type Side = (typeof CRAFT_FINDINGS)[CraftCheckId]['worse'];

/** What bounds the first number in a page's failing example where no number of the finding does; SI. */
const BOUND_OUTSIDE = new Map<CraftCheckId, number>([
  // Of its ratio to what the part was made for, or to what the pack stores.
  ['motor-overvoltage', 1],
  ['flight-too-long', 1],
  // Nothing is the bound of a difference and of a height that is left.
  ['mass-unexplained', 0],
  ['observed-disagrees', 0],
  ['flight-ends-aloft', 0],
  // What the example requires.
  ['overweight', 0.24],
  ['short-flight', 40 * 60],
  ['weak-in-wind', 25],
  ['leg-unflyable', 55],
]);

/** Checks whose first number is not always of one quantity: a low voltage or a shortfall, a gap or an overlap. */
const OF_SEVERAL_QUANTITIES: ReadonlySet<CraftCheckId> = new Set<CraftCheckId>(['pack-oversag', 'propeller-close']);

const failuresOf = async (id: CraftCheckId, example: string): Promise<readonly Finding[]> =>
  (await checkedExample(example))[EXAMPLE]?.findings.filter((finding) => finding.id === id) ?? [];

function shownSide(id: CraftCheckId, [first, ...others]: readonly FindingNumber[]): Side {
  const bound = others.find(({ isBound }) => isBound)?.value ?? BOUND_OUTSIDE.get(id);
  if (first === undefined || bound === undefined || OF_SEVERAL_QUANTITIES.has(id)) return 'neither';
  return first.value > bound ? 'above' : 'below';
}

describe('the side on which a finding is worse is the one that its numbers show', () => {
  it.each(CHECKS.map(({ id, page }) => ({ id, page, ...CRAFT_FINDINGS[id] })))(
    '$id: $worse',
    async ({ id, page, worse }) => {
      const found = await failuresOf(id, page.fails);
      const shown = found.map(({ numbers }) => shownSide(id, numbers));
      expect(new Set(shown), 'by its first number, and the limit among the others: boundNumber').toEqual(
        new Set([worse]),
      );
    },
  );
});
