/** `fettle completion`: what the shells are offered, put to real ones where they are there. */
import { spawnSync } from 'node:child_process';
import { chmodSync, mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { where } from '../where.ts';
import { command, Workshop } from './command.ts';

const shop = new Workshop();
afterAll(() => shop.remove());
const offered = (...words: string[]): string[] =>
  shop
    .fettle('complete', '--', ...words)
    .out.split('\n')
    .filter(Boolean)
    .map((line) => line.split('\t')[0] ?? '');

describe('the words that are possible there', () => {
  it.each<[string[], string[]]>([
    [['ca'], ['card']],
    [
      ['list', ''],
      ['builds', 'parts', 'uses'],
    ],
    [['check', '--fo'], ['--format']],
    [['check', '--format', 'm'], ['markdown']],
    [
      ['check', '--fail-on', ''],
      ['error', 'warning', 'information'],
    ],
    [['card', 'B'], ['Belfry']],
    [['card', 'Gable', 'Sp'], ['Spire']],
    [['explain', 'hover_t'], ['hover_time']],
    [['explain', 'hover_time', 'Spi'], ['Spire']],
    [['explain', 'hover_time', 'Spire', '--with', 'Mast13'], ['Mast1350_4S']],
    [['compare', 'Gable', '--with', 'Rou'], ['Round2600_3S']],
    [['list', 'uses', 'M13'], ['M1305_4350']],
    [
      ['completion', ''],
      ['bash', 'zsh', 'fish'],
    ],
    [['sheet', 'Gable', ''], [':files']],
    [['sheet', 'Gable', '--out', ''], [':files']],
    [['nonsense', ''], []],
  ])('%j → %j', (words, expected) => {
    expect(offered(...words)).toEqual(expected);
  });

  it('offers every command and option that the help names, and none twice', () => {
    const { out } = shop.fettle('--help');
    const commands = [...out.matchAll(/^ {2}([a-z]+) /gm)].map(([, name]) => name);
    expect(commands.length).toBeGreaterThan(8);
    expect(offered('').toSorted()).toEqual(commands.toSorted());
    for (const name of commands.filter((command) => command !== 'help')) {
      const help = shop.fettle(name ?? '', '--help').out;
      const options = [...help.matchAll(/^ {2}(?:-h, )?(--[a-z-]+)/gm)].map(([, option]) => option);
      expect(offered(name ?? '', '--').toSorted()).toEqual(options.toSorted());
    }
    expect(offered('check', '--format', 'json', '--')).not.toContain('--format');
  });

  it('sees names in files that are half typed', () => {
    shop.write('half/a.fettle', 'build Halfway "x {\n  pack: ');
    expect(offered('card', 'Halfw')).toEqual(['Halfway']);
  });

  it('refuses a shell that it does not know', () => {
    expect(shop.fettle('completion', 'constructor')).toMatchObject({
      code: 2,
      out: '',
      err: 'fettle: there is no script for constructor; known: bash, zsh, fish\n',
    });
  });
});

/** A folder with a `fettle` that shells find. */
function onPath(): string {
  const bin = join(shop.folder, 'bin');
  mkdirSync(bin, { recursive: true });
  shop.write('bin/fettle', `#!/bin/sh\nexec "${process.execPath}" "${command}" "$@"\n`);
  chmodSync(join(bin, 'fettle'), 0o755);
  return `${bin}:${process.env.PATH}`;
}

const has = (shell: string): boolean => spawnSync(shell, ['--version']).status === 0;

function inShell(shell: string, ...args: string[]): string {
  const { stdout, stderr, status } = spawnSync(shell, args, {
    cwd: shop.folder,
    encoding: 'utf8',
    env: { ...process.env, PATH: onPath(), HOME: shop.folder },
  });
  if (status !== 0) throw new Error(stderr);
  return stdout;
}

describe('in a real shell', () => {
  where(has('bash'), 'bash')('bash completes commands, names and files, also with spaces', () => {
    shop.write('two words/a.fettle', 'item A { mass: 3 g }\n');
    const script = `
      source <(fettle completion bash)
      complete -p fettle
      ask() { COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1)); _fettle 2>/dev/null; printf '<%s>' "\${COMPREPLY[@]}"; echo; }
      ask fettle ca
      ask fettle card Gable Sp
      ask fettle check --format j
      ask fettle check two
      ask fettle card ''`;
    const [registered, command, build, format, folder, all] = inShell('bash', '--norc', '-c', script).split('\n');
    expect(registered).toBe('complete -F _fettle fettle');
    expect([command, build, format, folder]).toEqual(['<card>', '<Spire>', '<json><junit>', '<two words>']);
    expect(all).toContain('<Gable>');
  });

  where(has('fish'), 'fish')('fish completes commands and names, with what they are', () => {
    shop.write('.config/fish/completions/fettle.fish', shop.fettle('completion', 'fish').out);
    const ask = (line: string) => inShell('fish', '-c', `complete -C '${line}'`);
    expect(ask('fettle car')).toBe('card\ta page for the field: when to turn back, when to land\n');
    expect(ask('fettle card Gable Sp')).toBe('Spire\tbuild\n');
    expect(ask('fettle check --format j')).toBe('json\njunit\n');
    expect(ask('fettle check exam')).toMatch(/^examples\//);
  });

  where(has('zsh'), 'zsh')('zsh takes the script', () => {
    shop.write('zfunc/_fettle', shop.fettle('completion', 'zsh').out);
    const script = `
      fpath=($HOME/zfunc $fpath); autoload -Uz compinit; compinit -u -d $HOME/.zcompdump
      print -r -- $_comps[fettle]
      _describe() { print -rl -- "\${(@P)2}"; }; _files() { print files; }
      words=(fettle card Spi); CURRENT=3; autoload +X _fettle; source $HOME/zfunc/_fettle; _fettle
      words=(fettle sheet Spire ''); CURRENT=4; _fettle`;
    expect(inShell('zsh', '-f', '-c', script).split('\n').filter(Boolean)).toEqual(['_fettle', 'Spire:build', 'files']);
  });
});
