// Packs fettle.vsix. The same sources give the same bytes: file times are SOURCE_DATE_EPOCH, or the last commit's.
import { execFileSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { createVSIX } from '@vscode/vsce';

const here = fileURLToPath(new URL('.', import.meta.url));
process.env.SOURCE_DATE_EPOCH ??= execFileSync('git', ['log', '-1', '--format=%ct'], {
  cwd: here,
  encoding: 'utf8',
}).trim();
await createVSIX({
  cwd: here,
  packagePath: `${here}fettle.vsix`,
  dependencies: false,
  allowMissingRepository: true,
  rewriteRelativeLinks: false,
});
