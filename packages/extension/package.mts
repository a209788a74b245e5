// Packs fettle.vsix. The same sources give the same bytes: file times are SOURCE_DATE_EPOCH, or the last commit's. Where a forge's runner
// states which repository this is, the packed manifest names it, and what the page links to and shows is found there.
import { execFileSync } from 'node:child_process';
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { createVSIX } from '@vscode/vsce';

const here = fileURLToPath(new URL('.', import.meta.url));
const { env } = process;
env.SOURCE_DATE_EPOCH ??= execFileSync('git', ['log', '-1', '--format=%ct'], { cwd: here, encoding: 'utf8' }).trim();

const PARTS = [
  ...['.vscodeignore', 'package.json', 'package.nls.json', 'language-configuration.json'],
  ...['README.md', 'LICENSE', 'CHANGELOG.md', 'THIRD-PARTY-NOTICES', 'images', 'syntaxes', 'dist'],
];
const aside = mkdtempSync(join(tmpdir(), 'fettle-vsix-'));
try {
  for (const part of PARTS) cpSync(join(here, part), join(aside, part), { recursive: true });
  const repository =
    env.GITHUB_REPOSITORY && `${env.GITHUB_SERVER_URL ?? 'https://github.com'}/${env.GITHUB_REPOSITORY}`;
  if (repository) {
    const manifest = JSON.parse(readFileSync(join(here, 'package.json'), 'utf8'));
    const links = {
      repository: { type: 'git', url: `${repository}.git` },
      bugs: { url: `${repository}/issues` },
      homepage: `${repository}#readme`,
    };
    writeFileSync(join(aside, 'package.json'), JSON.stringify({ ...manifest, ...links }, null, 2));
  }
  const at = `${env.GITHUB_SHA ?? 'HEAD'}/packages/extension`;
  await createVSIX({
    cwd: aside,
    packagePath: process.argv[2] ?? join(here, 'fettle.vsix'),
    dependencies: false,
    allowMissingRepository: true,
    rewriteRelativeLinks: Boolean(repository),
    ...(repository && { baseContentUrl: `${repository}/blob/${at}`, baseImagesUrl: `${repository}/raw/${at}` }),
  });
} finally {
  rmSync(aside, { recursive: true, force: true });
}
