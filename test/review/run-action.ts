/** The action as a runner runs it, and pull requests that it reviews. */
import { spawn } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { CRAFT } from '../report/review/rooftop-craft.ts';
import type { PlayedForge } from './played-forge.ts';
import { Repository } from './repository.ts';

const root = join(import.meta.dirname, '../..');

export const actionOf = (path: string) => readFileSync(join(root, '.github/action', path), 'utf8');
export const description = actionOf('action.yml');
export const siteDescription = actionOf('site/action.yml');
/** Of an action's inputs, by name. */
function defaultsOf(action: string): ReadonlyMap<string, string | undefined> {
  const [, inputs = ''] = /^inputs:\n([\s\S]*?)^(?=\w|#)/m.exec(action) ?? [];
  const texts = inputs.split(/^ {2}(?=\w)/m).slice(1);
  return new Map(
    texts.map((text) => [text.split(':')[0] ?? '', /^ {4}default: "?([^"\n]*)"?$/m.exec(text)?.[1]] as const),
  );
}
export const DEFAULTS = defaultsOf(description);
export const SITE_DEFAULTS = defaultsOf(siteDescription);

/** What a runner sets, and nothing of the machine that tests run on. */
export const bareIn = (home: string) => ({ PATH: process.env.PATH ?? '', HOME: home, LANG: 'C.UTF-8' });

interface Ran {
  readonly code: number | null;
  readonly reported: string;
  readonly outputs: Record<string, string>;
  readonly summary: string;
}

/** A pull request that raises a duty limit, and the merge that a forge keeps of it. */
export class PullRequest implements Disposable {
  readonly origin: Repository;
  head = '';

  constructor(
    change: (repository: Repository) => void = (it) => it.edit('builds/rafter.fettle', 'duty 58 %', 'duty 100 %'),
    files = CRAFT,
  ) {
    this.origin = new Repository(files);
    this.origin.branch('change');
    this.push(change);
  }

  [Symbol.dispose](): void {
    this.origin[Symbol.dispose]();
  }

  push(change: (repository: Repository) => void): void {
    this.origin.git('checkout', '-q', 'change');
    change(this.origin);
    this.origin.commit();
    this.head = this.origin.git('rev-parse', 'HEAD');
    this.origin.git('checkout', '-q', '--detach', 'main');
    this.origin.git('merge', '-q', '--no-ff', '-m', 'Merge', 'change');
    this.origin.git('update-ref', 'refs/pull/7/merge', 'HEAD');
  }

  /** As the checkout of a workflow does it: the merge, and what it merges. */
  checkedOut(...how: string[]): Repository {
    const clone = new Repository();
    clone.git('remote', 'add', 'origin', `file://${this.origin.folder}`);
    clone.git(
      'fetch',
      '-q',
      ...(how.length > 0 ? how : ['--depth=2', 'origin']),
      '+refs/pull/7/merge:refs/remotes/pull/7/merge',
    );
    clone.git('checkout', '-q', '--detach', 'refs/remotes/pull/7/merge');
    return clone;
  }
}

const STRAP = 'parts/strap.fettle';

/** One with an error that takes no computing, where what the forge answers is what counts. */
export const small = (): PullRequest =>
  new PullRequest((it) => it.edit(STRAP, '3 g', '3 V'), { [STRAP]: 'fettle 1\n\nitem Strap { mass: 3 g }\n' });

interface Runner {
  readonly forge?: PlayedForge;
  readonly url?: string;
  readonly inputs?: Readonly<Record<string, string>>;
  readonly env?: Readonly<Record<string, string>>;
  /** Ends it in the midst of its work. */
  readonly kill?: RegExp;
}

/** A runner that keeps its files in a folder, and has the packed action there. */
export const runnerIn =
  (home: string, packed: string) =>
  async (
    checkout: Pick<Repository, 'folder' | 'git'>,
    head: string,
    { forge, url, inputs: given = {}, env = {}, kill }: Runner,
  ): Promise<Ran> => {
    const runner = mkdtempSync(join(home, 'runner-'));
    const file = (name: string) => join(runner, name);
    writeFileSync(file('event.json'), JSON.stringify({ pull_request: { number: 7, head: { sha: head } } }));
    const inputs = Object.fromEntries(
      [...DEFAULTS].map(([name, usual]) => [`INPUT_${name.toUpperCase()}`, given[name] ?? usual ?? '']),
    );
    const api = url ?? forge?.url ?? '';
    const child = spawn(process.execPath, [join(packed, 'action.js')], {
      cwd: checkout.folder,
      env: {
        ...bareIn(home),
        ...inputs,
        INPUT_TOKEN: 'token',
        GITHUB_API_URL: api,
        GITHUB_GRAPHQL_URL: `${api}/graphql`,
        GITHUB_REPOSITORY: 'group/craft',
        GITHUB_EVENT_NAME: 'pull_request',
        GITHUB_EVENT_PATH: file('event.json'),
        GITHUB_BASE_REF: 'main',
        GITHUB_SHA: checkout.git('rev-parse', 'HEAD'),
        GITHUB_REF: 'refs/pull/7/merge',
        GITHUB_RUN_ID: '12',
        GITHUB_SERVER_URL: 'https://forge.example',
        GITHUB_OUTPUT: file('output'),
        GITHUB_STEP_SUMMARY: file('summary'),
        RUNNER_TEMP: runner,
        ...env,
      },
    });
    if (forge && kill)
      forge.onCall = (call) => {
        if (kill.test(call)) child.kill('SIGKILL');
      };
    let reported = '';
    for (const stream of [child.stdout, child.stderr]) {
      stream.on('data', (chunk) => {
        reported += chunk;
      });
    }
    const code = await new Promise<number | null>((resolve, reject) => {
      child.on('error', reject);
      child.on('close', resolve);
    });
    const text = (name: string) => (existsSync(file(name)) ? readFileSync(file(name), 'utf8') : '');
    const outputs = Object.fromEntries(
      text('output')
        .split('\n')
        .map((line) => line.split(/=(.*)/s).slice(0, 2)),
    );
    return { code, reported, outputs, summary: text('summary') };
  };
