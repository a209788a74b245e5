/** What `npm pack` makes of the language: whole, small, licensed, and fit for readers of every sort. Needs the build. */
import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { checkPackage, createPackageFromTarballData } from '@arethetypeswrong/core';
import { publint } from 'publint';
import { formatMessage } from 'publint/utils';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';

const root = join(import.meta.dirname, '../..');
const language = join(root, 'packages/language');
const home = mkdtempSync(join(tmpdir(), 'fettle-package-'));
const empty = join(home, 'empty');
let tarball = '';
let files: readonly { path: string; size: number }[] = [];
let unpackedSize = 0;

beforeAll(() => {
  mkdirSync(empty);
  const { stdout } = spawnSync('npm', ['pack', '--ignore-scripts', '--json', '--pack-destination', home], {
    cwd: language,
    encoding: 'utf8',
    shell: process.platform === 'win32',
  });
  const reported = JSON.parse(stdout);
  // A list of packages, or an object by name, as the version of npm likes.
  const [packed] = Object.values(reported) as { filename: string; files: typeof files; unpackedSize: number }[];
  if (packed === undefined) throw new Error(`npm pack printed ${stdout}`);
  ({ files, unpackedSize } = packed);
  tarball = join(home, packed.filename);
});
afterAll(() => rmSync(home, { recursive: true, force: true }));

const description = JSON.parse(readFileSync(join(language, 'package.json'), 'utf8'));

/** Of the tarball's readers, from an empty folder and with no network. */
const npx = (...args: string[]) => {
  const { status, stdout, stderr } = spawnSync('npx', ['--offline', '--yes', `--package=${tarball}`, ...args], {
    cwd: empty,
    encoding: 'utf8',
    shell: process.platform === 'win32',
    env: { ...process.env, npm_config_cache: join(home, 'cache'), npm_config_update_notifier: 'false' },
  });
  return { status, stdout, stderr };
};

describe('the package', () => {
  it('brings its licence, its page and what it owes others, and nothing that only an extension needs', () => {
    const names = files.map(({ path }) => path);
    for (const path of ['LICENSE', 'README.md', 'THIRD-PARTY-NOTICES', 'reference/README.md'])
      expect(names).toContain(path);
    expect(names.filter((path) => /server(-web)?\.js$|\.css$|\.map$|src\//.test(path))).toEqual([]);
  });

  it('is 3 MB at most when unpacked', () => {
    expect(unpackedSize).toBeGreaterThan(0);
    expect(unpackedSize).toBeLessThanOrEqual(3_000_000);
  });

  it('runs nothing when it is installed, and needs nothing', () => {
    expect(Object.keys(description.scripts).filter((name) => /install|prepare$/.test(name))).toEqual([]);
    expect(description).not.toHaveProperty('dependencies');
    expect(description).not.toHaveProperty('peerDependencies');
  });

  it('is described without a fault', async () => {
    const data = readFileSync(tarball);
    const { messages, pkg } = await publint({
      pack: { tarball: data.buffer.slice(data.byteOffset, data.byteOffset + data.byteLength) },
      strict: true,
    });
    expect(messages.map((message) => formatMessage(message, pkg, { color: false }))).toEqual([]);
  });

  it('has types for readers of every sort', async () => {
    const checked = await checkPackage(createPackageFromTarballData(readFileSync(tarball)));
    expect(checked).toMatchObject({ packageName: '@fettle/language', types: { kind: 'included' } });
    expect('problems' in checked && checked.problems).toEqual([]);
  });

  it('runs from an empty folder without an installation', () => {
    const example = /```fettle\n([\s\S]*?)```/.exec(readFileSync(join(language, 'README.md'), 'utf8'))?.[1] ?? '';
    writeFileSync(join(empty, 'first.fettle'), example);
    const { status, stdout, stderr } = npx('fettle', 'check', 'first.fettle', '--format', 'json');
    expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
    expect(JSON.parse(stdout).builds).toMatchObject([{ name: 'Fledgling' }]);
  });

  it('is the same library for those who require it as for those who import it', () => {
    const script = `
      const required = require('@fettle/language');
      let early = '';
      try { required.findings({ files: [], failures: [] }); } catch (error) { early = error.constructor.name + ': ' + error.message; }
      (async () => {
        const imported = await import('@fettle/language');
        const workspace = await required.parse({ 'a.fettle': 'item Strap { mass: 3 mm }' });
        const both = [required, imported].map((library) => library.findings(workspace).map(({ id }) => id));
        const late = await required.parse({ '/a': '' }).catch((error) => error.constructor.name);
        console.log(JSON.stringify({ early, both, late, names: [Object.keys(required).sort(), Object.keys(imported).sort()] }));
      })();`;
    const project = join(home, 'project');
    const place = join(project, 'node_modules/@fettle/language');
    mkdirSync(place, { recursive: true });
    spawnSync('tar', ['-xzf', tarball, '-C', place, '--strip-components=1']);
    const { stdout, stderr } = spawnSync(process.execPath, ['--input-type=commonjs', '--eval', script], {
      cwd: project,
      encoding: 'utf8',
    });
    expect(stderr).toBe('');
    const { early, both, late, names } = JSON.parse(stdout);
    expect(early).toBe('TypeError: this is no workspace: parse or load makes one');
    expect(both).toEqual([['wrong-dimension'], ['wrong-dimension']]);
    expect(late).toBe('TypeError');
    expect(names[0]).toEqual(names[1]);
  });
});

describe('what the bundles owe others', () => {
  const notices = readFileSync(join(language, 'THIRD-PARTY-NOTICES'), 'utf8');
  const headings = [...notices.matchAll(/^-{80}\n\n(\S+) (\S+) \((.+)\)$/gm)];

  /** What is needed only by parts of a package that nothing here uses: of these the bundles contain no line. */
  const NOT_BUNDLED = ['@chevrotain/cst-dts-gen', '@chevrotain/types', 'd3-time', 'd3-time-format', 'internmap'];

  /** Where Node would find a package, seen from a folder. */
  const found = (name: string, from: string): string | undefined => {
    for (let folder = from; ; folder = dirname(folder)) {
      const here = join(folder, 'node_modules', name);
      if (existsSync(join(here, 'package.json'))) return here;
      if (folder === dirname(folder)) return undefined;
    }
  };

  /** By another way than the bundler's account: all that the sources import, and what those packages state they need. */
  function reachable(): Map<string, string> {
    const source = join(language, 'src');
    const texts = readdirSync(source, { recursive: true, encoding: 'utf8' })
      .filter((file) => file.endsWith('.ts'))
      .map((file) => readFileSync(join(source, file), 'utf8'));
    const imported = texts.flatMap((text) =>
      [...text.matchAll(/(?:^import |\bfrom )'((?:@[^/']+\/)?[a-z][^/':]*)[^':]*'/gm)].map(([, name = '']) => name),
    );
    const seen = new Map<string, string>();
    const visit = (name: string, from: string): void => {
      const folder = found(name, from);
      if (folder === undefined) return;
      const { version, dependencies } = JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8'));
      if (seen.has(`${name} ${version}`)) return;
      seen.set(`${name} ${version}`, folder);
      for (const next of Object.keys(dependencies ?? {})) visit(next, folder);
    };
    for (const name of imported) visit(name, language);
    return seen;
  }

  it('is reported for each package, with the text of its licence', () => {
    expect(headings.length).toBeGreaterThan(15);
    const reported = new Map(headings.map(([, name, version]) => [`${name} ${version}`, true]));
    const owed = reachable();
    for (const name of reported.keys()) expect([...owed.keys()]).toContain(name);
    const undeclared = [...owed.keys()].filter((name) => !reported.has(name)).map((name) => name.replace(/ \S+$/, ''));
    expect(undeclared.toSorted()).toEqual(NOT_BUNDLED);
    for (const [name, folder] of owed) {
      if (!reported.has(name)) continue;
      const [licence = ''] = readdirSync(folder).filter((file) => /^licen[cs]e/i.test(file));
      expect(notices).toContain(readFileSync(join(folder, licence), 'utf8').replaceAll('\r\n', '\n').trim());
    }
  });
});
