/** What is written asks the file whether it may be, not its folder. */
import { spawnSync } from 'node:child_process';
import { chmodSync, chownSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect } from 'vitest';
import { where } from '../where.ts';
import { command, Workshop } from './command.ts';

const shop = new Workshop();
afterAll(() => {
  chmodSync(join(shop.folder, 'closed'), 0o755);
  shop.remove();
});

const isRoot = process.getuid?.() === 0;
/** Root writes everywhere: what it starts is started as somebody who may not. */
const SOMEBODY = isRoot ? { uid: 65_534, gid: 65_534 } : {};

function asSomebody(...args: string[]) {
  const environment = { ...process.env, NO_COLOR: '1' };
  const options = { cwd: shop.folder, encoding: 'utf8', env: environment, ...SOMEBODY } as const;
  const { status, stdout, stderr } = spawnSync(process.execPath, [command, ...args], options);
  return { code: status, out: stdout, err: stderr };
}

/** A file that formatting changes, and its folder, with these modes. */
function untidy(folder: string, modes: { readonly file: number; readonly folder: number }): string {
  const path = shop.write(`${folder}/crate.fettle`, 'item Crate {mass:   3 g}\n');
  for (const [which, mode] of [[path, modes.file] as const, [join(shop.folder, folder), modes.folder] as const]) {
    if (SOMEBODY.uid !== undefined) chownSync(which, SOMEBODY.uid, SOMEBODY.gid);
    chmodSync(which, mode);
  }
  return path;
}

if (isRoot) chmodSync(shop.folder, 0o755);
const canRun = process.getuid !== undefined && asSomebody('--version').code === 0;

describe('fettle format', () => {
  const ordinary = where(canRun, 'POSIX modes, and a user who is not root and can start the command');

  ordinary('leaves a write-protected file alone, though its folder may be written in', () => {
    const path = untidy('open', { file: 0o444, folder: 0o755 });
    const { code, err } = asSomebody('format', 'open');
    expect({ code, err }).toEqual({
      code: 2,
      err: 'fettle: open/crate.fettle: left alone, open/crate.fettle cannot be written: permission denied\n',
    });
    expect(readFileSync(path, 'utf8')).toBe('item Crate {mass:   3 g}\n');
    expect(statSync(path).mode & 0o777).toBe(0o444);
  });

  ordinary('writes into a file that may be written, though its folder may not', () => {
    const path = untidy('closed', { file: 0o644, folder: 0o555 });
    expect(asSomebody('format', 'closed')).toMatchObject({ code: 0, err: '' });
    expect(readFileSync(path, 'utf8')).toBe('item Crate { mass: 3 g }\n');
    expect(readdirSync(join(shop.folder, 'closed'))).toEqual(['crate.fettle']);
  });

  where(isRoot, 'root: nobody else writes for others')('leaves a file to its owner', () => {
    const path = untidy('theirs', { file: 0o640, folder: 0o755 });
    expect(shop.fettle('format', 'theirs')).toMatchObject({ code: 0, err: '' });
    const { uid, gid, mode } = statSync(path);
    expect({ uid, gid, mode: mode & 0o777 }).toEqual({ ...SOMEBODY, mode: 0o640 });
    expect(readFileSync(path, 'utf8')).toBe('item Crate { mass: 3 g }\n');
  });
});
