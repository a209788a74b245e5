/** What `npm run package` makes of the extension: small, with all that it shows and owes inside. Needs the build. */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { strFromU8, unzipSync } from 'fflate';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';

const extension = join(import.meta.dirname, '../../packages/extension');
const home = mkdtempSync(join(tmpdir(), 'fettle-vsix-test-'));
const { GITHUB_REPOSITORY: _, GITHUB_SHA: __, ...environment } = process.env;

interface Packed {
  readonly bytes: Buffer;
  readonly files: ReadonlyMap<string, Uint8Array>;
  text(path: string): string;
}

function packed(name: string, env: Readonly<Record<string, string>>): Packed {
  const file = join(home, name);
  execFileSync(process.execPath, [join(extension, 'package.mts'), file], {
    env: { ...environment, SOURCE_DATE_EPOCH: '1700000000', ...env },
    stdio: ['ignore', 'ignore', 'pipe'],
  });
  const bytes = readFileSync(file);
  const files = new Map(
    Object.entries(unzipSync(bytes)).map(([path, content]) => [path.replace(/^extension\//, ''), content]),
  );
  return { bytes, files, text: (path) => strFromU8(files.get(path) ?? new Uint8Array()) };
}

let plain: Packed;
let released: Packed;
beforeAll(() => {
  plain = packed('plain.vsix', {});
  released = packed('released.vsix', {
    GITHUB_REPOSITORY: 'group/craft',
    GITHUB_SERVER_URL: 'https://forge.example',
    GITHUB_SHA: 'abc123',
  });
}, 120_000);
afterAll(() => rmSync(home, { recursive: true, force: true }));

describe('the packed extension', () => {
  it('is 1.5 MB at most: one server is packed, for both hosts', () => {
    expect(plain.bytes.length).toBeGreaterThan(500_000);
    expect(plain.bytes.length).toBeLessThanOrEqual(1_500_000);
  });

  it('has every picture that its manifest or page shows, and no other', () => {
    const shown = [plain.text('package.json'), plain.text('readme.md')].flatMap((text) =>
      [...text.matchAll(/images\/[\w-]+\.\w+/g)].map(([path]) => path),
    );
    const pictures = [...plain.files.keys()].filter((path) => path.startsWith('images/'));
    expect(shown.length).toBeGreaterThan(10);
    expect(pictures.sort()).toEqual([...new Set(shown)].sort());
    // A page with drawings that could contain a script is refused.
    expect(plain.text('readme.md')).not.toMatch(/\.svg/);
  });

  it('has all its words in one table, each of them used, and its commands, settings and steps have none of their own', () => {
    const words = JSON.parse(plain.text('package.nls.json'));
    const manifest = plain.text('package.json');
    const used = [...manifest.matchAll(/"%([\w.]+)%"/g)].map(([, key]) => key);
    expect([...used].sort()).toEqual(Object.keys(words).sort());
    const printed = /"(?:title|description|markdownDescription|altText)": "(?!%)([^"]*)"/g;
    expect([...manifest.matchAll(printed)].map(([, text]) => text)).toEqual(['Fettle']);
    for (const text of Object.values(words)) expect(text).not.toBe('');
  });

  it('brings licence, changes and what it owes others', () => {
    for (const path of ['LICENSE.txt', 'changelog.md', 'THIRD-PARTY-NOTICES']) expect(plain.text(path)).not.toBe('');
    expect([...plain.files.keys()].filter((path) => /^(src|view|test|node_modules)\/|\.map$|\.ts$/.test(path))).toEqual(
      [],
    );
  });

  it('of a repository that is known names it, and shows its pictures from there', () => {
    const { repository, bugs, homepage } = JSON.parse(released.text('package.json'));
    expect([repository.url, bugs.url, homepage]).toEqual([
      'https://forge.example/group/craft.git',
      'https://forge.example/group/craft/issues',
      'https://forge.example/group/craft#readme',
    ]);
    const pictures = [...released.text('readme.md').matchAll(/!\[[^\]]*\]\(([^)]*)\)/g)].map(([, path]) => path);
    expect(pictures.length).toBeGreaterThan(2);
    for (const path of pictures)
      expect(path).toMatch(
        /^https:\/\/forge\.example\/group\/craft\/raw\/abc123\/packages\/extension\/images\/[\w-]+\.webp$/,
      );
    expect(JSON.parse(plain.text('package.json'))).not.toHaveProperty('repository');
  });

  it('is the same twice', () => {
    expect(packed('again.vsix', {}).bytes.equals(plain.bytes)).toBe(true);
  }, 60_000);

  it('is started by its own files and by nothing else, and reads no other program to start', () => {
    const { activationEvents } = JSON.parse(plain.text('package.json'));
    expect(activationEvents).toEqual([
      'onLanguage:fettle',
      'onWebviewPanel:fettle.sheet',
      'onWebviewPanel:fettle.choice',
    ]);
    // The client alone: the server is a process of its own, which nobody waits for.
    const required = [...plain.text('dist/client.js').matchAll(/\brequire\("([^"]+)"\)/g)].map(([, name = '']) => name);
    const builtin = createRequire(import.meta.url)('node:module').builtinModules as readonly string[];
    expect(required.filter((name) => name !== 'vscode' && !builtin.includes(name.replace(/^node:/, '')))).toEqual([]);
  });
});
