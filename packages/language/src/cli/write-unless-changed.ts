/** Writes a file that was read before: all of it or nothing where its folder permits that, and not where somebody changed it meanwhile. */

import {
  accessSync,
  chmodSync,
  chownSync,
  constants,
  readFileSync,
  realpathSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { errorCodeOf } from '../syntax/thrown.ts';
import { notWritten, Refusal } from './refuse.ts';

/** Editors may put it before a text; whoever reads the text does not see it. */
const BYTE_ORDER_MARK = '\uFEFF';

/** Why a file cannot be replaced that perhaps can be written: its folder, its owner, or that it is mounted by itself. */
const NOT_REPLACEABLE = new Set(['EACCES', 'EPERM', 'EROFS', 'EBUSY']);

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
  try {
    // A link stays a link.
    const real = realpathSync(file);
    // To replace a file needs no permission to write it.
    accessSync(real, constants.W_OK);
    if (!isReplaced(real, mark + after)) writeFileSync(real, mark + after);
  } catch (error) {
    throw notWritten(path, error);
  }
}

/** False where that is not permitted: the file is as it was. */
function isReplaced(file: string, text: string): boolean {
  const beside = `${file}.${process.pid}.tmp`;
  try {
    const { uid, gid, mode } = statSync(file);
    writeFileSync(beside, text);
    // It belongs to whom it did, and whoever may read it still may.
    chownSync(beside, uid, gid);
    chmodSync(beside, mode);
    renameSync(beside, file);
    return true;
  } catch (error) {
    rmSync(beside, { force: true });
    const code = errorCodeOf(error);
    if (code !== undefined && NOT_REPLACEABLE.has(code)) return false;
    throw error;
  }
}
