/** A step of the action: runs the review, keeps it as Markdown (and the findings as SARIF), and leaves the verdict to the last step. */
import { spawnSync } from 'node:child_process';
import { appendFileSync, mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

const command = join(import.meta.dirname, '../../packages/language/bin/fettle.js');

const { FETTLE_BASE, FETTLE_PATHS, FETTLE_FAIL_ON = 'error', FETTLE_SARIF, GITHUB_BASE_REF, RUNNER_TEMP } = process.env;

const base = FETTLE_BASE || (GITHUB_BASE_REF && `origin/${GITHUB_BASE_REF}`);
if (!base) fail('there is nothing to compare with: this is no pull request, and no base is given');

const paths = (FETTLE_PATHS ?? '')
  .split('\n')
  .map((path) => path.trim())
  .filter((path) => path !== '');
const folder = mkdtempSync(join(RUNNER_TEMP ?? tmpdir(), 'fettle-'));

const failOn = FETTLE_FAIL_ON === 'never' ? 'error' : FETTLE_FAIL_ON;
const asked = ['review', `--base=${base}`, `--fail-on=${failOn}`];
const markdown = fettle([...asked, '--format=markdown', '--', ...paths]);
if (markdown.out === '') fail(markdown.err.trim());
const json = fettle([...asked, '--format=json', '--', ...paths]);
const { verdict, failures, work } = JSON.parse(json.out) as {
  verdict: { worry: string };
  failures: readonly unknown[];
  work: { changedFiles: number };
};

const review = join(folder, 'review.md');
writeFileSync(review, markdown.out);
append(process.env.GITHUB_STEP_SUMMARY, markdown.out);
output('review', review);
output('worry', verdict.worry);
// Where nothing of ours was changed there is nothing to say.
output('changed', String(work.changedFiles > 0 || failures.length > 0));
// A review that could not read everything is never a success.
output('code', String(FETTLE_FAIL_ON === 'never' && markdown.code === 1 ? 0 : markdown.code));

if (FETTLE_SARIF === 'true') {
  const findings = fettle(['check', '--format=sarif', '--', ...paths]);
  if (findings.out === '') fail(findings.err.trim());
  const sarif = join(folder, 'findings.sarif');
  writeFileSync(sarif, findings.out);
  output('sarif', sarif);
}

function fettle(args: readonly string[]): { code: number; out: string; err: string } {
  const { status, stdout, stderr } = spawnSync(process.execPath, [command, ...args], {
    encoding: 'utf8',
    maxBuffer: 256 * 1024 * 1024,
    env: { ...process.env, NO_COLOR: '1' },
  });
  process.stderr.write(stderr);
  return { code: status ?? 2, out: stdout, err: stderr };
}

function output(name: string, value: string): void {
  append(process.env.GITHUB_OUTPUT, `${name}=${value}\n`);
}

function append(file: string | undefined, text: string): void {
  if (file) appendFileSync(file, text);
}

/** One line, as a workflow command takes it. */
function fail(message: string): never {
  const line = message.replaceAll('%', '%25').replaceAll('\r', '%0D').replaceAll('\n', '%0A');
  process.stdout.write(`::error title=Fettle review::${line}\n`);
  process.exit(2);
}
