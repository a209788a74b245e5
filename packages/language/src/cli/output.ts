/** Where a page goes, and in which format. */
import { writeFileSync } from 'node:fs';
import { extname } from 'node:path';
import { notWritten, Refusal } from './refuse.ts';

const FORMATS: Readonly<Record<string, string>> = {
  '.html': 'html',
  '.htm': 'html',
  '.md': 'markdown',
  '.svg': 'svg',
  '.txt': 'text',
};

/** The format requested; else that of the file's name; else the usual one, which is the first. */
export function formatFor<F extends string>(
  requested: F | undefined,
  file: string | undefined,
  known: readonly [F, ...F[]],
): F {
  if (requested !== undefined || file === undefined) return requested ?? known[0];
  const ending = extname(file).toLowerCase();
  const found = known.find((format) => format === FORMATS[ending]);
  if (found !== undefined || ending === '') return found ?? known[0];
  const endings = Object.entries(FORMATS).flatMap(([one, format]) => (known.some((one) => one === format) ? one : []));
  throw new Refusal(`${file}: unknown ending ${ending}; a page ends in ${endings.join(', ')}, or state --format`);
}

/** To the requested place, and nowhere else. */
export function output(text: string, file: string | undefined): void {
  if (file === undefined) {
    process.stdout.write(text);
    return;
  }
  if (extname(file).toLowerCase() === '.fettle') {
    throw new Refusal(`${file} would be a source file: write a page into .html, .md, .svg or .txt`);
  }
  try {
    writeFileSync(file, text);
  } catch (error) {
    throw notWritten(file, error);
  }
}
