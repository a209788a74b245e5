/** Mistakes of ours: one costs what it was met in, is reported at its file, and everything else is judged all the same. */

import { asError } from './thrown.ts';

export interface Defect {
  /** The file that could not be judged in full. */
  readonly uri: string;
  readonly error: Error;
}

/** What `run` answers; nothing, and a defect more, when it throws. */
export function guarded<T>(defects: Defect[], uri: string, run: () => T): T | undefined {
  try {
    return run();
  } catch (error) {
    defects.push({ uri, error: asError(error) });
    return undefined;
  }
}

/** One sentence, without the path. */
export const defectMessage = ({ message }: Error): string =>
  `an error inside Fettle kept it from being judged in full (${message}); no finding here does not mean safe`;
