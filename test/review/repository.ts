/** A scripted repository in a folder of its own, and the command run in it. The same script makes the same commits. */
import { spawnSync } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';

const command = join(import.meta.dirname, '../../packages/language/bin/fettle.js');

export interface Run {
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
}

const environment = {
  ...process.env,
  NO_COLOR: '1',
  GIT_CONFIG_NOSYSTEM: '1',
  GIT_CONFIG_GLOBAL: '/dev/null',
  GIT_AUTHOR_NAME: 'Warden',
  GIT_AUTHOR_EMAIL: 'warden@example.org',
  GIT_AUTHOR_DATE: '2026-01-01T00:00:00Z',
  GIT_COMMITTER_NAME: 'Warden',
  GIT_COMMITTER_EMAIL: 'warden@example.org',
  GIT_COMMITTER_DATE: '2026-01-01T00:00:00Z',
};

export class Repository implements Disposable {
  readonly folder: string;

  constructor(files: Readonly<Record<string, string>> = {}) {
    this.folder = mkdtempSync(join(tmpdir(), 'fettle-review-'));
    this.git('init', '-q', '-b', 'main');
    if (Object.keys(files).length > 0) this.write(files).commit();
  }

  [Symbol.dispose](): void {
    rmSync(this.folder, { recursive: true, force: true });
  }

  git(...args: string[]): string {
    const { status, stdout, stderr } = spawnSync('git', args, { cwd: this.folder, encoding: 'utf8', env: environment });
    if (status !== 0) throw new Error(`git ${args.join(' ')}: ${stderr}`);
    return stdout.trim();
  }

  write(files: Readonly<Record<string, string>>): this {
    for (const [path, text] of Object.entries(files)) {
      mkdirSync(dirname(join(this.folder, path)), { recursive: true });
      writeFileSync(join(this.folder, path), text);
    }
    return this;
  }

  /** Replaces a piece of a file that must be there. */
  edit(path: string, from: string, to: string): this {
    const text = readFileSync(join(this.folder, path), 'utf8');
    if (!text.includes(from)) throw new Error(`${path} does not say ${from}`);
    return this.write({ [path]: text.replace(from, to) });
  }

  move(from: string, to: string): this {
    mkdirSync(dirname(join(this.folder, to)), { recursive: true });
    renameSync(join(this.folder, from), join(this.folder, to));
    return this;
  }

  delete(path: string): this {
    rmSync(join(this.folder, path));
    return this;
  }

  copy(from: string): this {
    cpSync(from, this.folder, { recursive: true });
    return this;
  }

  commit(message = 'change'): this {
    this.git('add', '--all');
    this.git('commit', '-q', '--allow-empty', '-m', message);
    return this;
  }

  branch(name: string): this {
    this.git('checkout', '-q', '-b', name);
    return this;
  }

  status(): string {
    return this.git('status', '--porcelain');
  }

  fettle(...args: string[]): Run {
    return runIn(this.folder, ...args);
  }

  review(...args: string[]): Run {
    return this.fettle('review', ...args);
  }

  // biome-ignore lint/suspicious/noExplicitAny: what the JSON says is what is tested.
  json(...args: string[]): any {
    const { out, err } = this.review(...args, '--format', 'json');
    if (out === '') throw new Error(err);
    return JSON.parse(out);
  }
}

export function runIn(folder: string, ...args: string[]): Run {
  const { status, stdout, stderr } = spawnSync(process.execPath, [command, ...args], {
    cwd: folder,
    encoding: 'utf8',
    env: environment,
    maxBuffer: 64 * 1024 * 1024,
  });
  return { code: status, out: stdout, err: stderr };
}

/** Two craft that share their parts, and a variant of one. */
export const CRAFT: Readonly<Record<string, string>> = {
  'parts/motors.fettle': `fettle 1

motor M1104 "1104 stator" {
  stator: 11 x 4 mm
  kv: 10500 rpm/V +- 3 % claimed
  resistance: 98 mohm measured
  no_load_current: 0.62 A at 7.4 V measured
  rated: 2S
  continuous: 9 A claimed
  burst: 12 A for 5 s claimed
  mass: 3.40 g +- 0.02 g measured
}

motor M1104_Slow like M1104 {
  kv: 7200 rpm/V claimed
  resistance: 190 mohm measured
  rated: 3S
}
`,
  'parts/others.fettle': `fettle 1

airframe Duct90 { mass: 31 g measured }
propeller P2020 { diameter: 51 mm  pitch: 51 mm  blades: 3  mass: 0.9 g measured }
esc Board20 { channels: 4  cells: 2S .. 4S  continuous: 20 A  burst: 25 A for 10 s  mass: 6.1 g measured
  rail video { from: pack  type: buck  output: 5 V  continuous: 2.5 A }
}
load Camera { draw: 4.2 W  supply: 4.6 V .. 17 V  mass: 8.6 g measured }
pack Slim480 { cells: 2S  capacity: 480 mAh claimed  discharge: 75C claimed  cell_resistance: 14 mohm measured  mass: 28.1 g measured }
pack Slim420 { cells: 3S  capacity: 420 mAh claimed  discharge: 75C claimed  cell_resistance: 16 mohm measured  mass: 36.5 g measured }
`,
  'rules/house.fettle': `fettle 1

rules HouseRules {
  reserve: 20 % of capacity
  require all_up_weight <= 130 g
}
`,
  'builds/rafter.fettle': `fettle 1
use "../parts"
use "../rules"

build Rafter "Rafter, roof-void survey" {
  rules: HouseRules
  airframe: Duct90
  motors: 4 x M1104 with P2020
  esc: Board20
  load: Camera from Board20.video
  pack: Slim480
  pack: Slim420 duty 66 %
}
`,
  'builds/quiet.fettle': `fettle 1
use "../parts"

build Quiet "Rafter, slower winding" like Rafter {
  motors: 4 x M1104_Slow with P2020
  without: Slim480
  without: Slim420
  pack: Slim420 as Full3S
}
`,
  'builds/eave.fettle': `fettle 1
use "../parts"

motor Old { stator: 12 x 4 mm  kv: 6000 rpm/V  rated: 3S  mass: 5 g }

build Eave "Eave, gutters" {
  airframe: Duct90
  motors: 4 x Old with P2020
  esc: Board20
  pack: Slim420
}
`,
};
