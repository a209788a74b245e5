/** Runs the packed command: the review for people and for this action, and all findings for code scanning. */
import { spawn, spawnSync } from 'node:child_process';
import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import type { Forge } from './forge.ts';
import { type Event, input, linesOf, setOutput, summary } from './runner.ts';

const { GITHUB_BASE_REF, GITHUB_REPOSITORY = '', RUNNER_TEMP } = process.env;

export interface Reviewed {
  readonly markdown: string;
  readonly code: number;
  /** Whether anything of ours was changed. */
  readonly isChanged: boolean;
}

/** @param command the path of `bin/fettle.js` */
export async function runReview(command: string, { pullRequest }: Event): Promise<Reviewed> {
  const base = input('base') || mergedInto(pullRequest?.head.sha) || (GITHUB_BASE_REF && `origin/${GITHUB_BASE_REF}`);
  if (!base) throw new Error('there is nothing to compare with: this is no pull request, and no base is given');
  const failOn = input('fail-on') || 'error';
  const asked = ['review', `--base=${base}`, `--fail-on=${failOn === 'never' ? 'error' : failOn}`];
  const [markdown, json] = await Promise.all([
    fettle(command, [...asked, '--format=markdown', '--', ...linesOf('paths')]),
    fettle(command, [...asked, '--format=json', '--', ...linesOf('paths')]),
  ]);
  if (markdown.out === '' || json.out === '') throw new Error((markdown.err || json.err).trim() || DIED);
  process.stderr.write(markdown.err);
  const { verdict, failures, work } = JSON.parse(json.out) as {
    verdict: { worry: string };
    failures: readonly unknown[];
    work: { changedFiles: number };
  };
  const file = join(folder(), 'review.md');
  writeFileSync(file, markdown.out);
  summary(markdown.out);
  setOutput('review', file);
  setOutput('worry', verdict.worry);
  return {
    markdown: markdown.out,
    // A review that could not judge everything is never a success.
    code: failOn === 'never' && markdown.code === 1 ? 0 : markdown.code,
    isChanged: work.changedFiles > 0 || failures.length > 0,
  };
}

const DIED = 'the command ended without a word: it may have run out of memory';

/** All findings, as code scanning compares them itself. */
export async function uploadFindings(command: string, forge: Forge, { commit, ref }: Event): Promise<void> {
  const { out, err } = await fettle(command, ['check', '--format=sarif', '--', ...linesOf('paths')]);
  if (out === '') throw new Error(err.trim() || DIED);
  const log = JSON.parse(out) as { runs: { automationDetails?: unknown }[] };
  const name = input('name');
  for (const run of log.runs) run.automationDetails = { id: `fettle${name === '' ? '' : `-${name}`}/` };
  const text = JSON.stringify(log);
  const file = join(folder(), 'findings.sarif');
  writeFileSync(file, text);
  setOutput('sarif', file);
  await forge.call('POST', `/repos/${GITHUB_REPOSITORY}/code-scanning/sarifs`, {
    commit_sha: commit,
    ref,
    sarif: gzipSync(text).toString('base64'),
  });
}

let own: string | undefined;
function folder(): string {
  own ??= mkdtempSync(join(RUNNER_TEMP ?? tmpdir(), 'fettle-'));
  return own;
}

/** What a runner checks out of a pull request is a merge that the forge made: its first parent is there even in the shallowest clone. */
function mergedInto(head: string | undefined): string | undefined {
  const { stdout } = spawnSync('git', ['rev-list', '--parents', '-n1', 'HEAD'], { encoding: 'utf8' });
  const [, first, second] = stdout?.trim().split(' ') ?? [];
  return head !== undefined && second === head ? first : undefined;
}

interface Run {
  readonly code: number;
  readonly out: string;
  readonly err: string;
}

/** In a process of its own: whatever happens to it, somebody is left to report it. */
function fettle(command: string, args: readonly string[]): Promise<Run> {
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, [command, ...args], {
      stdio: ['ignore', 'pipe', 'pipe'],
      env: { ...process.env, NO_COLOR: '1' },
    });
    const [out, err]: [Buffer[], Buffer[]] = [[], []];
    child.stdout.on('data', (chunk: Buffer) => out.push(chunk));
    child.stderr.on('data', (chunk: Buffer) => err.push(chunk));
    child.on('error', reject);
    child.on('close', (code) =>
      resolve({ code: code ?? 2, out: Buffer.concat(out).toString(), err: Buffer.concat(err).toString() }),
    );
  });
}
