/**
 * Puts together what is published on the forge's pages: the page to try, and behind `examples/` the example craft as `fettle site` writes
 * them, each sheet with a link that opens its texts in the page to try. Needs the build.
 *
 *     node packages/playground/pages.mts OUT ADDRESS
 */
import { execFileSync } from 'node:child_process';
import { cpSync, rmSync } from 'node:fs';
import { join } from 'node:path';

const root = join(import.meta.dirname, '../..');

/** @param address where the pages will be: an absolute address or path that ends with a slash */
export function publish(out: string, address: string): void {
  rmSync(out, { recursive: true, force: true });
  cpSync(join(import.meta.dirname, 'dist'), out, { recursive: true });
  const command = join(root, 'packages/language/bin/fettle.js');
  const options = ['--title', 'Example craft', '--try', address];
  execFileSync(process.execPath, [command, 'site', join(out, 'examples'), join(root, 'examples'), ...options]);
}

if (import.meta.main) {
  const [out, address] = process.argv.slice(2);
  if (!out || !address?.endsWith('/'))
    throw new Error('state a folder and the address of the pages, which ends with a slash');
  publish(out, address);
}
