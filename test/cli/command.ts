/** The built command in a folder of its own, as a person runs it. */
import { spawnSync } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { type Ran, runWarm } from './warm-command.ts';

export const root = join(import.meta.dirname, '../..');
export const command = join(root, 'packages/language/bin/fettle.js');

export class Workshop {
  readonly folder = mkdtempSync(join(tmpdir(), 'fettle-command-'));

  constructor() {
    cpSync(join(root, 'examples'), join(this.folder, 'examples'), { recursive: true });
  }

  fettle(...args: string[]): Ran {
    return runWarm({ folder: this.folder, args, environment: { ...process.env, NO_COLOR: '1' } });
  }

  /** In a process of its own. */
  fettleAlone(...args: string[]): Ran {
    const { status, stdout, stderr } = spawnSync(process.execPath, [command, ...args], {
      cwd: this.folder,
      encoding: 'utf8',
      env: { ...process.env, NO_COLOR: '1' },
      input: '',
      maxBuffer: 64 * 1024 * 1024,
    });
    return { code: status, out: stdout, err: stderr };
  }

  write(path: string, text: string | Uint8Array): string {
    const full = join(this.folder, path);
    mkdirSync(dirname(full), { recursive: true });
    writeFileSync(full, text);
    return full;
  }

  remove(): void {
    rmSync(this.folder, { recursive: true, force: true });
  }
}
