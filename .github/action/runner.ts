/** What a runner passes to an action, and what it gets back. */
import { appendFileSync, readFileSync } from 'node:fs';

const { env } = process;

/** Exit code, as the command has it. */
export const NOT_RUN = 2;

/** As it is named in `action.yml`. */
export const input = (name: string): string => (env[`INPUT_${name.toUpperCase()}`] ?? '').trim();

/** Of an input with one thing per line. */
export const linesOf = (name: string): string[] =>
  input(name)
    .split('\n')
    .map((line) => line.trim())
    .filter((line) => line !== '');

export function setOutput(name: string, value: string): void {
  append(env.GITHUB_OUTPUT, `${name}=${value.replace(/[\r\n]+/g, ' ')}\n`);
}

export const summary = (markdown: string): void => append(env.GITHUB_STEP_SUMMARY, markdown);

function append(file: string | undefined, text: string): void {
  if (file) appendFileSync(file, text);
}

export const printLine = (message: string): void => void process.stdout.write(`${message}\n`);
export const annotateWarning = (message: string): void => annotate('warning', message);
export const annotateError = (message: string): void => annotate('error', message);

/** One line, as a workflow command takes it. */
function annotate(kind: 'warning' | 'error', message: string): void {
  const line = message.replaceAll('%', '%25').replaceAll('\r', '%0D').replaceAll('\n', '%0A');
  printLine(`::${kind} title=Fettle::${line}`);
}

interface PullRequest {
  readonly number: number;
  readonly head: { readonly sha: string };
}

export interface Event {
  /** None where the run is of no pull request. */
  readonly pullRequest: PullRequest | undefined;
  /** What is reviewed, for people and for code scanning. */
  readonly commit: string;
  readonly ref: string;
}

export function eventOf(): Event {
  const path = env.GITHUB_EVENT_PATH;
  const reported = path ? (JSON.parse(readFileSync(path, 'utf8')) as { pull_request?: PullRequest }) : {};
  const pullRequest = reported.pull_request;
  // Of that one the runner names the commit and the branch that the pull request is for.
  const isOfBase = env.GITHUB_EVENT_NAME === 'pull_request_target' && pullRequest !== undefined;
  return {
    pullRequest,
    commit: isOfBase ? pullRequest.head.sha : (env.GITHUB_SHA ?? ''),
    ref: isOfBase ? `refs/pull/${pullRequest.number}/head` : (env.GITHUB_REF ?? ''),
  };
}
