/** `fettle new`: nine numbers in, a first build out. */
import { spawnSync } from 'node:child_process';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { where } from '../where.ts';
import { command, Workshop } from './command.ts';

const shop = new Workshop();
afterAll(() => shop.remove());
const NUMBERS = ['--stator', '1204', '--kv', '6000', '--propeller', '2.5 in', '--blades', '3', '--cells', '3S'];
const MORE = ['--capacity', '450', '--esc', '15', '--video', '4', '--dry-mass', '92 g'];
const fresh = (...args: string[]) => shop.fettle('new', ...args, ...NUMBERS, ...MORE);
const read = (path: string) => readFileSync(join(shop.folder, path), 'utf8');

describe('fettle new', () => {
  it('writes a file that checks without an error, and shows its results', () => {
    const { code, out, err } = fresh('Fledgling');
    expect({ code, err }).toEqual({ code: 0, err: '' });
    expect(out).toMatch(/^wrote fledgling\.fettle\nby default: 4 motors \(--motors\)\n\n/);
    expect(out).toMatch(/^Fledgling {2}fledgling\.fettle\n.*\n {2}Pack450_3S +\d+ ± \d+ g/m);
    expect(out).toMatch(/^1 file, 1 build: 1 (note|hint)$/m);
    expect(shop.fettle('format', '--check', 'fledgling.fettle').code).toBe(0);
  });

  it('overwrites a file only with --force', () => {
    shop.write('mine/owl.fettle', '// mine\n');
    const at = ['--out', 'mine/owl.fettle'];
    expect(fresh('Owl', ...at)).toMatchObject({
      code: 2,
      out: '',
      err: 'fettle: NAME: mine/owl.fettle exists already; --force overwrites it\n',
    });
    expect(read('mine/owl.fettle')).toBe('// mine\n');
    expect(fresh('Owl', ...at, '--force').code).toBe(0);
    expect(fresh('Owl', ...at, '--force').code).toBe(0);
    expect(read('mine/owl.fettle')).toContain('build Owl {');
  });

  it('uses parts of the folder that have the same figures, and refuses the name of a build that is there', () => {
    fresh('Finch', '--out', 'finch.fettle');
    const { code, out } = fresh('Wren');
    expect(code).toBe(0);
    expect(out).toMatch(
      /^in this folder already, with the same figures: M1204_6000, P64x3, Board15, Video, Pack450_3S$/m,
    );
    expect(read('wren.fettle').match(/^[a-z]+ \w+ \{$/gm)).toEqual(['build Wren {']);
    expect(shop.fettle('check', 'wren.fettle', 'finch.fettle').out).toMatch(/^2 files, 2 builds: 2 (notes|hints)$/m);
    expect(fresh('Wren', '--out', 'other.fettle')).toMatchObject({
      code: 2,
      err: 'fettle: NAME: Wren is in this folder already\n',
    });
  });

  it('takes a name that is free where none is given, and reports the default', () => {
    for (const [name, file] of [
      ['First', 'first.fettle'],
      ['First_2', 'first_2.fettle'],
    ]) {
      const { code, out } = fresh('--motors', '6');
      expect(code).toBe(0);
      expect(out).toMatch(new RegExp(`^wrote ${file}\nby default: the name ${name} \\(fettle new NAME\\)\n`));
      expect(read(file ?? '')).toContain(`// By default: the name ${name}.\n`);
    }
  });

  it('without a terminal prompts for nothing and names all that is missing', () => {
    const { code, out, err } = shop.fettle('new', 'Bare', ...NUMBERS);
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(err.split('\n').filter((line) => / is missing: /.test(line))).toHaveLength(4);
    expect(err).toContain('--dry-mass is missing: dry mass, such as 92 g');
    expect(existsSync(join(shop.folder, 'bare.fettle'))).toBe(false);
  });

  it.each([
    [['Tit', '--kv', '600000'], /--kv: 600000 rpm\/V is outside/],
    [['Tit', '--out', 'tit.txt'], /must end in \.fettle/],
    [['Tit', '--out', '.'], /^fettle: \. is a folder; state a file in it: fledgling\.fettle$/m],
    [['Tit', '--out', 'nowhere/tit.fettle'], /there is no folder nowhere/],
  ])('refuses %j', (args, message) => {
    const before = readdirSync(shop.folder);
    const { code, out, err } = shop.fettle('new', ...NUMBERS, ...MORE, ...args);
    expect(out === '' && code === 2 ? err : `${code} ${out}`).toMatch(message);
    expect(readdirSync(shop.folder)).toEqual(before);
  });

  it('stays in its folder whatever the build is called', () => {
    const { code, out } = fresh('../../$(touch x); `id` "q"\n\u001b[2J');
    expect(code).toBe(0);
    expect(out).toMatch(/^wrote touch_x_id_q_2j\.fettle\n/);
    expect(out).not.toContain('\u001b');
    expect(read('touch_x_id_q_2j.fettle')).toMatch(/^build touch_x_id_q_2J "[^\n]*" \{$/m);
  });

  // `script` gives it a terminal.
  where(spawnSync('script', ['--version']).status === 0, 'the command script of util-linux')(
    'on a terminal prompts for nine numbers, and again for what it cannot take',
    () => {
      const typed = ['1204', 'fast', '6500kv', '2.5', '2.5 in', '3', '3', '450', '15', '0', '92'];
      const { stdout, status } = spawnSync(
        'script',
        ['-qec', `"${process.execPath}" "${command}" new Robin`, '/dev/null'],
        {
          cwd: shop.folder,
          encoding: 'utf8',
          input: `${typed.join('\n')}\n`,
        },
      );
      expect(stdout).toContain('“fast” is not a number and its unit, rpm/V');
      expect(stdout).toContain('did you mean 2.5 in?');
      for (const label of ['number of motors', 'name of the build']) expect(stdout).not.toContain(label);
      expect(stdout).toContain('wrote robin.fettle');
      expect(status).toBe(0);
      expect(read('robin.fettle')).toContain('kv: 6500 rpm/V');
    },
  );
});
