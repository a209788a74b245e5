// All tests, suite by suite, as `npm test` runs them; closes with one line over all of them.
import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, relative } from 'node:path';

interface Count {
  readonly suite: string;
  readonly passed: number;
  readonly failed: number;
  /** The tests that failed, each with the first line of its reason. */
  readonly failures?: readonly string[];
  /** The tests that failed first and passed when tried again. */
  readonly unsteady?: readonly string[];
  /** Names of the tests that did not run, each with what it lacked. */
  readonly skipped?: readonly string[];
  /** Why the whole suite did not run. */
  readonly absent?: string;
}

interface VitestReport {
  readonly numPassedTests: number;
  readonly numFailedTests: number;
  readonly testResults: readonly {
    name: string;
    status: string;
    message: string;
    assertionResults: readonly { status: string; fullName: string; failureMessages: readonly string[] }[];
  }[];
}

const root = join(import.meta.dirname, '..');
const inCi = process.env.CI === 'true';

const run = (command: string, ...args: string[]) =>
  spawnSync(command, args, { cwd: root, stdio: 'inherit', shell: process.platform === 'win32' }).status === 0;

/** A command that passes or fails as a whole. */
function whole(suite: string, command: string, ...args: string[]): Count {
  console.log(`\n== ${suite}`);
  const ok = run(command, ...args);
  return { suite, passed: ok ? 1 : 0, failed: ok ? 0 : 1 };
}

const firstLine = (text = '') => text.split('\n', 1)[0];

/** One hash of all files as they are, also of those that nobody has added yet: git names such a tree by its content. */
function treeOfFiles(): string {
  const folder = mkdtempSync(join(tmpdir(), 'fettle-index-'));
  const env = { ...process.env, GIT_INDEX_FILE: join(folder, 'index') };
  const git = (...args: string[]) => {
    const { status, stdout, stderr } = spawnSync('git', args, { cwd: root, encoding: 'utf8', env });
    if (status !== 0) throw new Error(`git ${args[0]}: ${stderr}`);
    return stdout.trim();
  };
  git('add', '--all');
  const tree = git('write-tree');
  rmSync(folder, { recursive: true, force: true });
  return tree;
}

/** What is generated from the grammar and the tables is there as they are now: generating it again changes no file. */
function fresh(): Count {
  console.log('\n== generated files are fresh');
  const before = treeOfFiles();
  const ok = run('npm', 'run', '--silent', 'generate');
  const same = ok && before === treeOfFiles();
  if (ok && !same) console.error('Generated files were stale; "npm run generate" has renewed them: commit them.');
  return { suite: 'generated files', passed: same ? 1 : 0, failed: same ? 0 : 1 };
}

function tests(suite: string, ...args: string[]): Count {
  console.log(`\n== ${suite}`);
  const folder = mkdtempSync(join(tmpdir(), 'fettle-test-'));
  const report = join(folder, 'report.json');
  process.env.FETTLE_REPORT = report;
  const ok = run('npx', 'vitest', 'run', ...args);
  const counted: VitestReport = existsSync(report)
    ? JSON.parse(readFileSync(report, 'utf8'))
    : { numPassedTests: 0, numFailedTests: 1, testResults: [] };
  rmSync(folder, { recursive: true, force: true });
  // A file that does not load has no tests that fail.
  const failed = Math.max(counted.numFailedTests, ok ? 0 : 1);
  const failures = counted.testResults
    .filter(({ status }) => status === 'failed')
    .flatMap(({ name, message, assertionResults }) => {
      const file = relative(root, name);
      const bad = assertionResults.filter(({ status }) => status === 'failed');
      if (bad.length === 0) return [`${file}: ${firstLine(message)}`];
      return bad.map((test) => `${file}: ${test.fullName}: ${firstLine(test.failureMessages[0])}`);
    });
  const skipped = counted.testResults
    .flatMap(({ assertionResults }) => assertionResults)
    .filter(({ status }) => status !== 'passed' && status !== 'failed')
    .map(({ fullName }) => fullName);
  return { suite, passed: counted.numPassedTests, failed, failures, skipped };
}

function workbench(): Count {
  const suite = 'workbench tests';
  console.log(`\n== ${suite}`);
  if (!run('node', 'test/workbench/install-workbench.ts')) {
    const absent = 'the server edition of VS Code cannot be installed here; the reason is above';
    return { suite, passed: 0, failed: inCi ? 1 : 0, absent };
  }
  const { status, stdout } = spawnSync('node', ['test/workbench/run-workbench.ts'], {
    cwd: root,
    encoding: 'utf8',
    stdio: ['inherit', 'pipe', 'inherit'],
    maxBuffer: 64 * 1024 * 1024,
  });
  process.stdout.write(stdout);
  let passed = 0;
  let failed = 0;
  for (const [, ok, bad] of stdout.matchAll(/^(\d+) passed, (\d+) failed$/gm)) {
    passed += Number(ok);
    failed += Number(bad);
  }
  const failures = [...stdout.matchAll(/^✗ .*$/gm)].map(([line]) => line);
  const unsteady = [...stdout.matchAll(/^✓ (.*) \(at the second attempt\)$/gm)].map(([, name = '']) => name);
  return { suite, passed, failed: Math.max(failed, status === 0 ? 0 : 1), failures, unsteady };
}

const counts = [
  whole('types', 'npm', 'run', '--silent', 'typecheck'),
  whole('lint and format', 'npm', 'run', '--silent', 'lint'),
  fresh(),
  tests('unit tests'),
  tests('end-to-end tests', '--project=end-to-end*'),
  tests('tests in a browser', '--project=browser*'),
  workbench(),
];

console.log('\n== all suites');
for (const { suite, passed, failed, failures = [], unsteady = [], skipped = [], absent } of counts) {
  const counted = `passed ${passed}, failed ${failed}, skipped ${skipped.length}`;
  console.log(`${suite}: ${absent ? `not run (${absent})` : counted}`);
  for (const failure of failures) console.log(`  failed: ${failure}`);
  for (const name of unsteady) console.log(`  passed at the second attempt: ${name}`);
  for (const name of skipped) console.log(`  skipped: ${name}`);
}
const sum = (of: (count: Count) => number) => counts.reduce((total, count) => total + of(count), 0);
const passed = sum((count) => count.passed);
const failed = sum((count) => count.failed);
const skipped = sum((count) => count.skipped?.length ?? 0);
console.log(`\n${passed} passed, ${failed} failed${skipped > 0 ? `, ${skipped} skipped` : ''}`);
process.exitCode = failed > 0 || passed === 0 ? 1 : 0;
