import { readFileSync } from 'node:fs';
import { layOut } from '../grammar/layout.ts';
import { terminalSafe } from '../syntax/terminal-safe.ts';
import { messageOf } from '../syntax/thrown.ts';
import { plural } from '../vocabulary/phrasing.ts';
import { loadPaths } from '../workspace/load-paths.ts';
import { NodeFileSystem } from '../workspace/node-files.ts';
import { createFettleServices } from '../workspace/services.ts';
import { pathOf } from './checked-files.ts';
import { COULD_NOT_RUN, complain } from './refuse.ts';
import { writeUnlessChanged } from './write-unless-changed.ts';

export interface FormatOptions {
  /** Only list what would change. */
  readonly check?: boolean;
}

/** Lays files out; returns the exit code: 1 when only checking and something would change, 2 when something was left alone. */
export async function formatPaths(paths: readonly string[], { check = false }: FormatOptions): Promise<number> {
  const { documents, failures } = await loadPaths(createFettleServices(NodeFileSystem), paths);
  for (const { path, message } of failures) complain(`${path}: ${message}`);
  let changed = 0;
  let leftAlone = failures.length;
  for (const { uri } of documents) {
    const path = pathOf(uri.toString());
    try {
      const outcome = formatFile(uri.fsPath, path, check);
      if (outcome === 'changed') {
        changed++;
        process.stdout.write(`${check ? 'would change' : 'changed'}  ${terminalSafe(path)}\n`);
      } else if (outcome !== 'unchanged') {
        leftAlone++;
        complain(`${path}: left alone, ${outcome.leftAlone}`);
      }
    } catch (error) {
      leftAlone++;
      complain(`${path}: left alone, ${messageOf(error)}`);
    }
  }
  process.stdout.write(
    `${plural(documents.length, 'file')}: ${changed} ${check ? 'would change' : 'changed'}${leftAlone > 0 ? `, ${leftAlone} left alone` : ''}\n`,
  );
  if (leftAlone > 0) return COULD_NOT_RUN;
  return check && changed > 0 ? 1 : 0;
}

function formatFile(
  file: string,
  path: string,
  check: boolean,
): 'changed' | 'unchanged' | { readonly leftAlone: string } {
  const bytes = readFileSync(file);
  const text = bytes.toString('utf8');
  // What does not come back as it was read would be lost by writing.
  if (!Buffer.from(text, 'utf8').equals(bytes)) return { leftAlone: 'it is not UTF-8' };
  const outcome = layOut(text);
  if ('leftAlone' in outcome) return outcome;
  if (outcome.text === text) return 'unchanged';
  if (!check) writeUnlessChanged(file, path, text, outcome.text);
  return 'changed';
}
