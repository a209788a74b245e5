/** What the lock file must contain for the parts to work together. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';

const root = join(import.meta.dirname, '../..');
const lock = JSON.parse(readFileSync(join(root, 'package-lock.json'), 'utf8')) as { packages: Record<string, object> };

it('has one copy of the JSON-RPC library: with two, errors reach the client as successful results', () => {
  const copies = Object.keys(lock.packages).filter((path) => path.endsWith('node_modules/vscode-jsonrpc'));
  expect(copies).toHaveLength(1);
});
