/**
 * Makes the packed tree in a folder: the command as npm packs it, the two actions and the hooks. A release puts it on a branch of its own, so
 * that `uses:` and `rev:` name a commit that holds, and thereby vouches for, every byte that runs. Needs the build.
 */
import { execFileSync } from 'node:child_process';
import { copyFileSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { build } from 'esbuild';

const here = import.meta.dirname;
const language = join(here, '../../packages/language');
/** Of the package, what a terminal needs. */
const RUNS = ['bin', 'dist', 'LICENSE', 'THIRD-PARTY-NOTICES'];

const README = `# Fettle, packed

The command, the actions and the hooks of a release, as they run. Nothing is written here by hand: sources, and how to use this, are on the
main branch.
`;

export async function packInto(folder: string): Promise<void> {
  rmSync(folder, { recursive: true, force: true });
  mkdirSync(folder, { recursive: true });
  const aside = mkdtempSync(join(tmpdir(), 'fettle-pack-'));
  try {
    const shell = process.platform === 'win32';
    const pack = ['pack', '--silent', '--ignore-scripts', '--pack-destination', aside];
    const tarball = execFileSync('npm', pack, { cwd: language, encoding: 'utf8', shell }).trim();
    const wanted = RUNS.map((path) => `package/${path}`);
    execFileSync('tar', ['-xzf', tarball, '-C', folder, '--strip-components=1', ...wanted], { cwd: aside });
  } finally {
    rmSync(aside, { recursive: true, force: true });
  }
  await build({
    entryPoints: [join(here, 'action.ts'), join(here, 'site-action.ts')],
    outdir: folder,
    bundle: true,
    platform: 'node',
    format: 'esm',
    target: 'node20',
    legalComments: 'none',
    logLevel: 'warning',
  });
  copyFileSync(join(here, 'action.yml'), join(folder, 'action.yml'));
  mkdirSync(join(folder, 'site'));
  copyFileSync(join(here, 'site/action.yml'), join(folder, 'site/action.yml'));
  copyFileSync(join(here, 'pre-commit-hooks.yaml'), join(folder, '.pre-commit-hooks.yaml'));
  writeFileSync(join(folder, 'README.md'), README);
  const { version, description, license, type, engines, bin } = JSON.parse(
    readFileSync(join(language, 'package.json'), 'utf8'),
  );
  // Without scripts and dependencies: whoever installs it runs nothing and fetches nothing.
  const own = {
    name: 'fettle-packed',
    version,
    description,
    license,
    type,
    engines,
    bin,
    files: [...RUNS, 'action.js', 'action.yml', 'site-action.js', 'site', '.pre-commit-hooks.yaml'],
  };
  writeFileSync(join(folder, 'package.json'), `${JSON.stringify(own, null, 2)}\n`);
}

if (import.meta.main) {
  const [folder] = process.argv.slice(2);
  if (folder === undefined) throw new Error('state the folder to make it in: node .github/action/pack.ts FOLDER');
  await packInto(folder);
}
