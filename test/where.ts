import { it } from 'vitest';
import { SKIPPED } from './list-skipped.ts';

/** `it` where its need is met; elsewhere the test is skipped and its name states what it lacked, so that a run can list it. */
export function where(isMet: boolean, need: string): typeof it {
  if (isMet) return it;
  const skip = (name: string) => it.skip(`${name} ${SKIPPED}${need}]`);
  return Object.assign(skip, { each: () => skip, for: () => skip }) as unknown as typeof it;
}
