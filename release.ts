/**
 * Makes everything that a release hands out, into `release/`: the package for npm, the extension, the packed command with action and hooks,
 * what they contain (CycloneDX) and the checksums. The same commit gives the same bytes, so that anybody can make them again and compare.
 */
import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { copyFileSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { packInto } from './.github/action/pack.ts';

const root = import.meta.dirname;
const out = join(root, 'release');
const run = (command: string, ...args: string[]): string =>
  execFileSync(command, args, {
    cwd: root,
    encoding: 'utf8',
    maxBuffer: 64 * 1024 * 1024,
    stdio: ['ignore', 'pipe', 'inherit'],
    shell: process.platform === 'win32',
  }).trim();

const changed = run('git', 'status', '--porcelain');
if (changed !== '') {
  console.error(
    `A release is made of a commit, and these files differ from it. Commit or stash them first.\n${changed}`,
  );
  process.exit(1);
}
const { version } = JSON.parse(readFileSync(join(root, 'packages/language/package.json'), 'utf8'));
const extension = JSON.parse(readFileSync(join(root, 'packages/extension/package.json'), 'utf8'));
const tag = process.env.GITHUB_REF_TYPE === 'tag' ? process.env.GITHUB_REF_NAME : undefined;
if (extension.version !== version || (tag !== undefined && tag !== `v${version}`)) {
  const reported = [
    `the language is ${version}`,
    `the extension ${extension.version}`,
    ...(tag ? [`the tag ${tag}`] : []),
  ];
  console.error(`A release has one version: ${reported.join(', ')}.`);
  process.exit(1);
}

rmSync(out, { recursive: true, force: true });
mkdirSync(out);
// Nothing of an earlier build.
rmSync(join(root, 'packages/language/dist'), { recursive: true, force: true });
run('npm', 'run', '--silent', 'build', '-w', 'packages/language');
run('npm', 'pack', '--silent', '--ignore-scripts', '--pack-destination', out, '-w', 'packages/language');
run('npm', 'run', '--silent', 'package', '-w', 'packages/extension');
copyFileSync(join(root, 'packages/extension/fettle.vsix'), join(out, `fettle-${version}.vsix`));
writeFileSync(join(out, `fettle-${version}.cdx.json`), contents());
// The tree of the branch `packed`, as a file until somebody who may write puts it there.
const tree = join(out, 'packed');
await packInto(tree);
run('npm', 'pack', '--silent', '--ignore-scripts', '--pack-destination', out, tree);
rmSync(tree, { recursive: true });

const sums = readdirSync(out)
  .sort()
  .map(
    (file) =>
      `${createHash('sha256')
        .update(readFileSync(join(out, file)))
        .digest('hex')}  ${file}\n`,
  )
  .join('');
writeFileSync(join(out, 'SHA256SUMS'), sums);
process.stdout.write(sums);

interface Component {
  readonly name: string;
  readonly version: string;
  readonly group?: string;
  readonly 'bom-ref': string;
  readonly properties?: unknown;
  readonly scope?: unknown;
}

/** npm's own account of the lock file, cut down to what is inside by the notices; without the hour and a number by chance. */
function contents(): string {
  const notices = ['language', 'extension'].map((name) =>
    readFileSync(join(root, 'packages', name, 'THIRD-PARTY-NOTICES'), 'utf8'),
  );
  const bundled = new Set(
    notices.flatMap((text) => [...text.matchAll(/^-{80}\n\n(\S+ \S+) \(/gm)].map(([, heading]) => heading)),
  );
  const all = JSON.parse(run('npm', 'sbom', '--package-lock-only', '--sbom-format', 'cyclonedx'));
  const seen = new Set<string>();
  const components = (all.components as Component[])
    .filter((one) => {
      const heading = `${one.group ? `${one.group}/` : ''}${one.name} ${one.version}`;
      const isNew = bundled.has(heading) && !seen.has(heading);
      if (isNew) seen.add(heading);
      return isNew;
    })
    // Where they lay while the bundles were made, and that only the build needs them, is nothing about the artefacts.
    .map(({ properties, scope, ...one }) => one);
  const missing = [...bundled].filter((heading) => heading && !seen.has(heading));
  if (missing.length > 0) throw new Error(`not in the lock file: ${missing.join(', ')}`);
  const refs = new Set(components.map((one) => one['bom-ref']));
  const dependencies = (all.dependencies as { ref: string; dependsOn?: string[] }[])
    .filter(({ ref }) => refs.has(ref))
    .map(({ ref, dependsOn = [] }) => ({ ref, dependsOn: dependsOn.filter((one) => refs.has(one)) }));
  const ref = `fettle@${version}`;
  const subject = {
    type: 'application',
    name: 'fettle',
    version,
    'bom-ref': ref,
    licenses: [{ license: { id: 'MIT' } }],
  };
  const reported = {
    $schema: all.$schema,
    bomFormat: all.bomFormat,
    specVersion: all.specVersion,
    version: 1,
    metadata: {
      timestamp: new Date(Number(run('git', 'log', '-1', '--format=%ct')) * 1000).toISOString(),
      lifecycles: [{ phase: 'build' }],
      component: subject,
    },
    components,
    dependencies: [{ ref, dependsOn: [...refs] }, ...dependencies],
  };
  return `${JSON.stringify(reported, null, 2)}\n`;
}
