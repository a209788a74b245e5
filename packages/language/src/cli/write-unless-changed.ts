/** Writes a file that was read before: all of it or nothing, and not where somebody changed it meanwhile. */
import { readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { notWritten, Refusal } from './refuse.ts';

/** Editors may put it before a text; whoever reads the text does not see it. */
const BYTE_ORDER_MARK = '\uFEFF';

/** @param path as a person names the file */
export function writeUnlessChanged(file: string, path: string, before: string, after: string): void {
  let now: string;
  try {
    now = readFileSync(file, 'utf8');
  } catch (error) {
    throw notWritten(path, error);
  }
  const mark = now.startsWith(BYTE_ORDER_MARK) && !before.startsWith(BYTE_ORDER_MARK) ? BYTE_ORDER_MARK : '';
  if (now !== mark + before) throw new Refusal(`${path} was changed meanwhile: nothing is written`);
  const beside = `${file}.${process.pid}.tmp`;
  try {
    writeFileSync(beside, mark + after);
    renameSync(beside, file);
  } catch (error) {
    rmSync(beside, { force: true });
    throw notWritten(path, error);
  }
}
