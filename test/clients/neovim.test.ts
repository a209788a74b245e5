/** A client that knows nothing of us: Debian's Neovim, without a screen, on the bundled server. */
import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect } from 'vitest';
import { RAFTER, WORKSHOP } from '../protocol/workshop.ts';
import { where } from '../where.ts';

const SERVER = fileURLToPath(new URL('../../packages/language/dist/server.js', import.meta.url));
const SCRIPT = fileURLToPath(new URL('./check.lua', import.meta.url));
const isInstalled = spawnSync('nvim', ['--version']).status === 0;

interface Seen {
  readonly diagnostics: readonly { code: string; line: number; severity: number; message: string }[];
  readonly hover: string;
}

function seenBy(files: Record<string, string>, file: string, name: string): Seen {
  const folder = mkdtempSync(join(tmpdir(), 'fettle-neovim-'));
  try {
    for (const [path, text] of Object.entries(files)) {
      mkdirSync(dirname(join(folder, path)), { recursive: true });
      writeFileSync(join(folder, path), text);
    }
    const out = join(folder, 'seen.json');
    const env = {
      ...process.env,
      FETTLE_NODE: process.execPath,
      FETTLE_SERVER: SERVER,
      FETTLE_FILE: file,
      FETTLE_NAME: name,
      FETTLE_OUT: out,
      // Its log and state belong to this run.
      XDG_STATE_HOME: folder,
      XDG_CACHE_HOME: folder,
      XDG_DATA_HOME: folder,
    };
    const run = spawnSync('nvim', ['--headless', '-u', 'NONE', '-i', 'NONE', '-n', '-c', `luafile ${SCRIPT}`], {
      cwd: folder,
      env,
      encoding: 'utf8',
      timeout: 50_000,
    });
    expect(run.stderr).not.toMatch(/Error|E\d{2,}:/);
    return JSON.parse(readFileSync(out, 'utf8')) as Seen;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

where(isInstalled, 'nvim on the path; Debian has it as neovim')(
  'Neovim shows the finding at its line and the hover of a build',
  () => {
    const files = { ...WORKSHOP, 'builds/rafter.fettle': RAFTER.replace(' duty 58 %', '') };
    const { diagnostics, hover } = seenBy(files, 'builds/rafter.fettle', 'Rafter');
    const line = files['builds/rafter.fettle'].split('\n').findIndex((text) => text.includes('pack: Slim900_5S'));
    const overvoltage = diagnostics.find(({ code }) => code === 'motor-overvoltage');
    // 1 is its word for an error.
    expect(overvoltage).toMatchObject({ line, severity: 1 });
    expect(hover).toMatch(/\*\*build Rafter\*\*/);
    expect(hover).toMatch(/\| all-up weight \| [\d.]+ ± [\d.]+ g \|/);
  },
);
