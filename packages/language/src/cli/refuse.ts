/** What a command reports when it cannot do its task. */

import { dirname } from 'node:path';
import { terminalSafe } from '../syntax/terminal-safe.ts';
import { errorCodeOf, messageOf } from '../syntax/thrown.ts';
import { nearest } from '../units/nearest.ts';
import { didYouMean } from '../vocabulary/phrasing.ts';

/** Exit code: could not run. */
export const COULD_NOT_RUN = 2;

/** Ends the command with its messages and exit code 2: a mistake of the caller, no defect of ours. */
export class Refusal extends Error {
  readonly messages: readonly string[];

  constructor(...messages: readonly string[]) {
    super(messages.join('; '));
    this.messages = messages;
  }
}

/** Why a file was not written. */
export function notWritten(file: string, error: unknown): Refusal {
  const code = errorCodeOf(error);
  const reason = (code !== undefined && WRITING[code]?.(file)) || messageOf(error);
  return new Refusal(`${file} cannot be written: ${reason}`);
}

const WRITING: Readonly<Record<string, (file: string) => string>> = {
  ENOENT: (file) => `there is no folder ${dirname(file)}`,
  ENOTDIR: (file) => `${dirname(file)} is no folder`,
  EISDIR: () => 'it is a folder; state a file in it',
  EACCES: () => 'permission denied',
  EPERM: () => 'permission denied',
  EROFS: () => 'the disk is read-only',
  ENOSPC: () => 'the disk is full',
  ENAMETOOLONG: () => 'the name is too long',
};

export function complain(message: string): void {
  process.stderr.write(`fettle: ${terminalSafe(message)}\n`);
}

/** Of many names these are shown. */
const MOST_NAMES = 8;

/** "there is no build Spier; did you mean Spire?" */
export function notThere(what: string, name: string, known: readonly string[]): Refusal {
  const likely = nearest(name, known).slice(0, 1);
  const shown = known.slice(0, MOST_NAMES).join(', ');
  const hint =
    likely.length > 0
      ? didYouMean(likely)
      : known.length > 0
        ? `; known: ${shown}${known.length > MOST_NAMES ? ' …' : ''}`
        : '';
  return new Refusal(`there is no ${what} ${name}${hint}`);
}
