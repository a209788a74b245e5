/** A scripted repository in a folder of its own, and the command run in it. The same script makes the same commits. */
import { spawnSync } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { type Ran, runWarm } from '../cli/warm-command.ts';

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

/** Repositories of one commit, by its files: the next test with the same files gets a copy, which takes a fifth of the time. */
const originals = new Map<string, string>();
process.on('exit', () => {
  for (const folder of originals.values()) rmSync(folder, { recursive: true, force: true });
});

export class Repository implements Disposable {
  readonly folder = mkdtempSync(join(tmpdir(), 'fettle-review-'));

  constructor(files: Readonly<Record<string, string>> = {}) {
    const content = JSON.stringify(files);
    const known = originals.get(content);
    if (known !== undefined) {
      cpSync(known, this.folder, { recursive: true });
      return;
    }
    this.git('init', '-q', '-b', 'main', '--template=');
    if (Object.keys(files).length > 0) this.write(files).commit();
    const kept = mkdtempSync(join(tmpdir(), 'fettle-review-'));
    cpSync(this.folder, kept, { recursive: true });
    originals.set(content, kept);
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
    const text = this.read(path);
    if (!text.includes(from)) throw new Error(`${path} does not say ${from}`);
    return this.write({ [path]: text.replace(from, to) });
  }

  read = (path: string): string => readFileSync(join(this.folder, path), 'utf8');

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

  fettle(...args: string[]): Ran {
    return runIn(this.folder, ...args);
  }

  review(...args: string[]): Ran {
    return this.fettle('review', ...args);
  }

  // biome-ignore lint/suspicious/noExplicitAny: what the JSON states is what is tested.
  json(...args: string[]): any {
    const { out, err } = this.review(...args, '--format', 'json');
    if (out === '') throw new Error(err);
    return JSON.parse(out);
  }
}

export const runIn = (folder: string, ...args: string[]): Ran => runWarm({ folder, args, environment });

/** With a heavier motor, of the rooftop craft. */
export const heavier = (repository: Repository) =>
  repository.edit('parts/motors.fettle', 'mass: 12.40 g', 'mass: 13.40 g');
