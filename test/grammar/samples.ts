import { globSync, readFileSync } from 'node:fs';
import { basename, join } from 'node:path';

const FOLDER = join(import.meta.dirname, '../fixtures/samples');

/** Worked files that use every kind of line of the language. */
export const samples: readonly { name: string; text: string }[] = globSync('**/*.fettle', { cwd: FOLDER })
  .sort()
  .map((path) => ({ name: basename(path), text: readFileSync(join(FOLDER, path), 'utf8') }));
