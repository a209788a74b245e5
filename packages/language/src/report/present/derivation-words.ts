/** What is printed of a derivation besides its formula and its numbers, without marks of any format. */
import type { Derivation } from '../../analysis/explain/derivation.ts';
import { upperFirst } from '../../vocabulary/phrasing.ts';
import type { Origin } from '../../vocabulary/schema.ts';
import { calibratedWords, taughtWords } from './taught-words.ts';

/** Nobody states a default. */
export const originWords = (origin: Origin): string => (origin === 'default' ? 'usual value' : origin);

export const sourceNote = ({ source }: Derivation): string => `Source: ${source}`;

/** What measurements did to the result, and what its formula does not cover: sentences without a full stop. @param unit of the result */
export function derivationNotes(derivation: Derivation, unit: string): string[] {
  const { calibration, neglects } = derivation;
  return [
    calibration && upperFirst(calibratedWords(calibration)),
    taughtWords(derivation, unit),
    neglects && `Leaves out: ${neglects}`,
  ].filter((note) => note !== undefined);
}
