/**
 * Runs git: nothing that a repository's configuration names is started, nothing is locked, nothing is fetched. To start it takes longer than
 * most of what it does, so that objects are read by one process, whatever their number.
 */
import { type ChildProcessByStdio, execFile, spawn } from 'node:child_process';
import type { Readable, Writable } from 'node:stream';

/** Why a review cannot be made, in a sentence or two for the person who requested it. */
export class CannotReview extends Error {}

interface Output {
  readonly code: number;
  readonly text: string;
  readonly errors: string;
}

const OPTIONS = ['--no-pager', '-c', 'core.fsmonitor=false'];
const environment = () => ({
  ...process.env,
  LC_ALL: 'C',
  GIT_OPTIONAL_LOCKS: '0',
  GIT_TERMINAL_PROMPT: '0',
  GIT_NO_LAZY_FETCH: '1',
});

export function git(folder: string, args: readonly string[]): Promise<Output> {
  return new Promise((resolve, reject) => {
    execFile(
      'git',
      [...OPTIONS, ...args],
      { cwd: folder, encoding: 'utf8', maxBuffer: 1024 * 1024 * 1024, env: environment() },
      (error, text, errors) => {
        if (error && typeof error.code !== 'number') {
          reject(
            new CannotReview(
              error.code === 'ENOENT' ? 'git is not installed, or not on the path' : `git stopped: ${error.message}`,
            ),
          );
          return;
        }
        resolve({ code: typeof error?.code === 'number' ? error.code : 0, text, errors });
      },
    );
  });
}

export interface GitObject {
  /** Its name in full. */
  readonly name: string;
  readonly type: string;
  readonly size: number;
  /** None of one that is larger than was wanted. */
  readonly bytes?: Buffer;
}

type Process = ChildProcessByStdio<Writable, Readable, null>;

/** The objects of a repository, from one process that answers until it is closed. */
export class GitObjects {
  readonly #folder: string;
  #process: Process | undefined;
  #answers: Answers | undefined;

  constructor(folder: string) {
    this.#folder = folder;
  }

  /** One for each name, in order; undefined for what is not here. One call at a time, no name with a line break. */
  async read(names: readonly string[], mostBytes = Number.POSITIVE_INFINITY): Promise<(GitObject | undefined)[]> {
    const found: (GitObject | undefined)[] = [];
    while (found.length < names.length) {
      const left = names.slice(found.length);
      this.#process ??= this.#start();
      this.#process.stdin.write(`${left.join('\n')}\n`);
      this.#answers ??= new Answers(this.#process.stdout);
      for (const _ of left) {
        found.push(await this.#answers.next(mostBytes));
        if (!this.#answers.hasEnded) continue;
        // It ends at a damaged object: what is behind that is for another one.
        this.close();
        break;
      }
    }
    return found;
  }

  #start(): Process {
    const child = spawn('git', [...OPTIONS, 'cat-file', '--batch'], {
      cwd: this.#folder,
      env: environment(),
      stdio: ['pipe', 'pipe', 'ignore'],
    });
    // It may be gone: what is not answered is not here.
    child.on('error', () => undefined);
    if (!child.stdin) throw new CannotReview('git could not be started: too many files are open');
    child.stdin.on('error', () => undefined);
    return child;
  }

  close(): void {
    this.#process?.stdin.end();
    this.#process?.stdout.destroy();
    this.#process = undefined;
    this.#answers = undefined;
  }
}

/** What `cat-file --batch` writes: for each name a line, and behind it the object where there is one. */
class Answers {
  hasEnded = false;
  readonly #chunks: AsyncIterator<Buffer>;
  #rest: Buffer = Buffer.alloc(0);

  constructor(stream: Readable) {
    this.#chunks = stream[Symbol.asyncIterator]();
  }

  async next(mostBytes: number): Promise<GitObject | undefined> {
    // Else it is "… missing", or may be several.
    const [, name, type, length] = /^([0-9a-f]{40,}) (blob|tree|commit|tag) (\d+)$/.exec(await this.#line()) ?? [];
    if (name === undefined || type === undefined) return undefined;
    const size = Number(length);
    const bytes = await this.#bytes(size, size <= mostBytes);
    await this.#bytes(1, false);
    return { name, type, size, ...(bytes && { bytes }) };
  }

  async #more(): Promise<boolean> {
    const { value, done } = await this.#chunks.next();
    if (done) {
      this.hasEnded = true;
      return false;
    }
    this.#rest = this.#rest.length > 0 ? Buffer.concat([this.#rest, value]) : value;
    return true;
  }

  async #line(): Promise<string> {
    while (!this.#rest.includes(0x0a)) if (!(await this.#more())) return '';
    const end = this.#rest.indexOf(0x0a);
    const line = this.#rest.toString('latin1', 0, end);
    this.#rest = this.#rest.subarray(end + 1);
    return line;
  }

  async #bytes(size: number, isKept: boolean): Promise<Buffer | undefined> {
    const kept: Buffer[] = [];
    for (let left = size; left > 0; ) {
      if (this.#rest.length === 0 && !(await this.#more())) return undefined;
      const piece = this.#rest.subarray(0, left);
      if (isKept) kept.push(piece);
      this.#rest = this.#rest.subarray(piece.length);
      left -= piece.length;
    }
    return isKept ? Buffer.concat(kept) : undefined;
  }
}
