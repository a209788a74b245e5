// All tests, suite by suite, as `npm test` runs them; closes with one line over all of them.
import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

interface Count {
  readonly suite: string;
  readonly passed: number;
  readonly failed: number;
  /** Names of the tests that did not run, each with what it lacked. */
  readonly skipped?: readonly string[];
  /** Why the whole suite did not run. */
  readonly absent?: string;
}

interface VitestReport {
  readonly numPassedTests: number;
  readonly numFailedTests: number;
  readonly testResults: readonly { assertionResults: readonly { status: string; fullName: string }[] }[];
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

/** The committed parser is what the grammar generates; the committed reference pages are what the tables state. */
function fresh(): Count {
  console.log('\n== generated files are fresh');
  const generated = [
    'packages/language/src/grammar/generated',
    'packages/language/src/analysis/results/generated',
    'packages/language/src/checks/generated',
    'packages/language/reference',
    'packages/extension/package.json',
  ];
  const before = spawnSync('git', ['diff', '--', ...generated], { cwd: root, encoding: 'utf8' }).stdout;
  const ok = run('npm', 'run', '--silent', 'generate');
  const after = spawnSync('git', ['diff', '--', ...generated], { cwd: root, encoding: 'utf8' }).stdout;
  const same = ok && before === after;
  if (ok && !same) console.error('Generated files were stale; "npm run generate" has renewed them: commit them.');
  return { suite: 'generated files', passed: same ? 1 : 0, failed: same ? 0 : 1 };
}

function tests(suite: string, ...folders: string[]): Count {
  console.log(`\n== ${suite}`);
  const folder = mkdtempSync(join(tmpdir(), 'fettle-test-'));
  const report = join(folder, 'report.json');
  const ok = run(
    'npx',
    'vitest',
    'run',
    ...folders,
    '--reporter=default',
    '--reporter=json',
    `--outputFile.json=${report}`,
  );
  const counted: VitestReport = existsSync(report)
    ? JSON.parse(readFileSync(report, 'utf8'))
    : { numPassedTests: 0, numFailedTests: 1, testResults: [] };
  rmSync(folder, { recursive: true, force: true });
  // A file that does not load has no tests that fail.
  const failed = Math.max(counted.numFailedTests, ok ? 0 : 1);
  const skipped = counted.testResults
    .flatMap(({ assertionResults }) => assertionResults)
    .filter(({ status }) => status !== 'passed' && status !== 'failed')
    .map(({ fullName }) => fullName);
  return { suite, passed: counted.numPassedTests, failed, skipped };
}

function workbench(): Count {
  const suite = 'workbench tests';
  console.log(`\n== ${suite}`);
  if (!run('node', 'test/workbench/install-workbench.ts')) {
    const absent = 'the server edition of VS Code cannot be installed here; the reason stands above';
    return { suite, passed: 0, failed: inCi ? 1 : 0, absent };
  }
  const { status, stdout } = spawnSync('node', ['test/workbench/run.ts'], {
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
  return { suite, passed, failed: Math.max(failed, status === 0 ? 0 : 1) };
}

const counts = [
  whole('types', 'npm', 'run', '--silent', 'typecheck'),
  whole('lint and format', 'npm', 'run', '--silent', 'lint'),
  fresh(),
  tests('unit, command and protocol tests'),
  tests('tests in a browser', 'test/browser'),
  workbench(),
];

console.log('\n== all suites');
for (const { suite, passed, failed, skipped = [], absent } of counts) {
  const counted = `passed ${passed}, failed ${failed}, skipped ${skipped.length}`;
  console.log(`${suite}: ${absent ? `not run (${absent})` : counted}`);
  for (const name of skipped) console.log(`  skipped: ${name}`);
}
const sum = (of: (count: Count) => number) => counts.reduce((total, count) => total + of(count), 0);
const passed = sum((count) => count.passed);
const failed = sum((count) => count.failed);
const skipped = sum((count) => count.skipped?.length ?? 0);
console.log(`\n${passed} passed, ${failed} failed${skipped > 0 ? `, ${skipped} skipped` : ''}`);
process.exitCode = failed > 0 || passed === 0 ? 1 : 0;
