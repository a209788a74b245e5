/** What is found on the small craft, apart from the note on estimates. */
import type { Finding } from '../../packages/language/src/checks/finding.ts';
import { SMALL_CRAFT } from '../small-craft.ts';
import { findingsIn } from './findings-in.ts';

export async function check(text: string, rules = '', craft = SMALL_CRAFT): Promise<readonly Finding[]> {
  const found = await findingsIn({ 'craft.fettle': craft, 'rules.fettle': rules, 'example.fettle': text });
  return (found['example.fettle'] ?? []).filter(({ id }) => id !== 'estimates');
}

export const reported = (findings: readonly Finding[]) => findings.map(({ severity, id }) => `${severity} ${id}`);
