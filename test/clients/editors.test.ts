/** Set-ups of the reference page, run as they are written by editors that know nothing of us, where Debian has the editor. */
import { spawn, spawnSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect } from 'vitest';
import { RAFTER, WORKSHOP } from '../protocol/workshop.ts';
import { where } from '../where.ts';
import { Home, recipeOf } from './recipes.ts';

const WATCH = fileURLToPath(new URL('./watch.el', import.meta.url));
const UNSAFE = { ...WORKSHOP, 'builds/rafter.fettle': RAFTER.replace(' duty 58 %', '') };
const lineOf = (words: string) => UNSAFE['builds/rafter.fettle'].split('\n').findIndex((text) => text.includes(words));

const has = (program: string, ...args: string[]) => spawnSync(program, args).status === 0;
const hasEglot = has('emacs', '--batch', '-f', 'package-initialize', '--eval', "(require 'eglot)");

interface InEmacs {
  readonly mode: string;
  readonly before: readonly { line: number; type: string; text: string }[];
  readonly after: readonly unknown[];
  readonly messages: readonly string[];
}

where(hasEglot && has('script', '--version'), 'emacs with eglot; Debian has them as emacs-nox and elpa-eglot')(
  'Emacs, set up as the page states, underlines the unsafe line, forgets it once it is mended, and warns of nothing',
  async () => {
    using home = new Home({ ...UNSAFE, '.emacs.d/init.el': recipeOf('Emacs', 'elisp') });
    // On a terminal: only there Emacs runs what waits for a command.
    const emacs = spawn('script', ['-qec', `emacs -nw -l ${WATCH} builds/rafter.fettle`, '/dev/null'], {
      cwd: home.folder,
      env: { ...home.env, FETTLE_FILE: join(home.folder, 'builds/rafter.fettle') },
      stdio: ['pipe', 'ignore', 'ignore'],
    });
    const limit = setTimeout(() => emacs.kill('SIGKILL'), 90_000);
    await new Promise((resolve) => emacs.once('exit', resolve));
    clearTimeout(limit);
    const { mode, before, after, messages } = home.seen<InEmacs>();
    expect(mode).toBe('fettle-mode');
    const [error] = before.filter(({ type }) => type === 'eglot-error');
    expect(error).toMatchObject({ line: lineOf('pack: Slim900_5S'), text: expect.stringMatching(/motor-overvoltage/) });
    expect(after).toEqual([]);
    expect(messages.some((line) => /Connected! Server `fettle'/.test(line))).toBe(true);
    // At the first start Emacs compiles libraries of its own, and notes what it thinks of them.
    const own = messages.filter((line) => !line.startsWith('Warning (comp): '));
    expect(own.filter((line) => /warning|error|void-|deprecat|unknown|not understood/i.test(line))).toEqual([]);
  },
  120_000,
);

where(has('kak', '-version'), 'kak on the path; Debian has it as kakoune')(
  'Kakoune, set up as the page states, enables the client for our files and for no others',
  () => {
    const out = 'enabled.txt';
    // Debian has no client for Kakoune: in its place a command of the same name that notes for which file it was called.
    const client = `define-command lsp-enable-window %{ echo -to-file ${out} -- %val{bufname} %opt{filetype} }\n`;
    using home = new Home({
      ...UNSAFE,
      'notes.txt': 'no source\n',
      kakrc: recipeOf('Kakoune', 'kak'),
      'run.kak': `${client}source kakrc\nedit notes.txt\nedit builds/rafter.fettle\nquit!\n`,
    });
    const run = spawnSync('kak', ['-n', '-ui', 'dummy', '-e', 'source run.kak'], {
      cwd: home.folder,
      env: home.env,
      encoding: 'utf8',
      timeout: 30_000,
    });
    expect(run.stderr).toBe('');
    expect(existsSync(join(home.folder, out))).toBe(true);
    expect(readFileSync(join(home.folder, out), 'utf8').trim()).toBe('builds/rafter.fettle fettle');
  },
);

where(has('kak-lsp', '--version'), 'kak-lsp on the path; Debian has none')(
  'the client of Kakoune reads the set-up of the page and finds the command',
  () => {
    using home = new Home({ ...UNSAFE, '.config/kak-lsp/kak-lsp.toml': recipeOf('Kakoune', 'toml') });
    const run = spawnSync('kak-lsp', ['--kakoune'], {
      cwd: home.folder,
      env: home.env,
      encoding: 'utf8',
      timeout: 30_000,
    });
    expect(run.status).toBe(0);
    expect(run.stdout).toContain('lsp-enable-window');
  },
);

where(has('hx', '--version'), 'hx on the path; Debian has no Helix')(
  'Helix, set up as the page states, finds the command for our files',
  () => {
    using home = new Home({ ...UNSAFE, '.config/helix/languages.toml': recipeOf('Helix', 'toml') });
    const run = spawnSync('hx', ['--health', 'fettle'], {
      cwd: home.folder,
      env: home.env,
      encoding: 'utf8',
      timeout: 30_000,
    });
    expect(run.status).toBe(0);
    expect(run.stdout).toMatch(/fettle.*✓|✓ fettle/);
  },
);
