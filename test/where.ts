import { it } from 'vitest';

/** `it` where its need is met; elsewhere the test is skipped and its name says what it lacked, so that a run can list it. */
export const where = (isMet: boolean, need: string): typeof it =>
  isMet ? it : (((name: string) => it.skip(`${name} [skipped: needs ${need}]`)) as unknown as typeof it);
