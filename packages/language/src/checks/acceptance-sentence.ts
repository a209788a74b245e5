/** The sentence that accepts a finding as it is today: `accept motor-overcurrent below 14 A with Mast900_3S because "…"`. */

import { displayUnit, joined, plainNumber } from '../units/print.ts';
import { isAboutCraft, isWorseAbove } from '../vocabulary/findings.ts';
import type { Finding } from './finding.ts';

const DIGITS = 2;

export function isAcceptable({ id, build, accepted }: Finding): boolean {
  return build !== undefined && accepted === undefined && isAboutCraft(id);
}

/** Up to the `because`. Where several packs meet the finding, all are meant. */
export function acceptingWords(finding: Finding): string {
  const below = acceptedBelow(finding);
  const isOfOnePack = finding.pack !== undefined && finding.packs === undefined;
  return `accept ${finding.id}${below === undefined ? '' : ` below ${below}`}${isOfOnePack ? ` with ${finding.pack}` : ''}`;
}

/** Today's number rounded up, `14 A`; undefined where a higher number is not a worse one. */
export function acceptedBelow({ id, numbers, highest }: Finding): string | undefined {
  const [principal] = numbers;
  if (principal === undefined || !isWorseAbove(id)) return undefined;
  const si = highest ?? principal.value;
  const unit = displayUnit(principal.unit);
  const value = unit.fromSI(si);
  const step = 10 ** (Math.floor(Math.log10(Math.abs(value))) + 1 - DIGITS);
  if (!Number.isFinite(value) || !Number.isFinite(step) || step === 0) return undefined;
  const above = (Math.floor(value / step + 1e-9) + 1) * step;
  const digits = plainNumber(Number(above.toPrecision(DIGITS + 1)));
  return joined({ number: digits, unit: unit.name });
}
