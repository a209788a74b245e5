// Runs the suite in both extension hosts: on Node, and in a browser's worker.
//   run-workbench.ts            in the server edition (install-workbench.ts first)
//   ONLY=words run-workbench.ts only tests with these words in their name
//   run-workbench.ts --desktop  in a desktop VS Code, downloaded once by @vscode/test-electron
import { cpSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { runTests } from '@vscode/test-electron';
import { build } from 'esbuild';
import { ANSWERS } from './suite/question.ts';
import { EXAMPLES, EXTENSION, SUITE } from './workbench-places.ts';

const desktop = process.argv.includes('--desktop');

await build({
  entryPoints: [join(import.meta.dirname, 'suite', 'whole-suite.ts')],
  outfile: join(SUITE, 'index.js'),
  bundle: true,
  external: ['vscode'],
  format: 'cjs',
  target: 'es2022',
  define: { ONLY: JSON.stringify(process.env.ONLY ?? '') },
  logLevel: 'warning',
});
writeFileSync(join(SUITE, 'package.json'), '{ "type": "commonjs" }\n');

let failed = false;
for (const host of (process.env.HOSTS ?? 'node,web').split(',')) {
  console.log(`\nextension host: ${host === 'web' ? 'browser' : 'Node'}`);
  // A copy, so that what a test edits stays out of the sources.
  const folder = mkdtempSync(join(tmpdir(), 'fettle-suite-'));
  cpSync(EXAMPLES, folder, { recursive: true });
  // Each answer to the suite is a new file: reported of one after the other, the client of a language server would wait for the last.
  mkdirSync(join(folder, '.vscode'));
  writeFileSync(
    join(folder, '.vscode/settings.json'),
    JSON.stringify({ 'files.watcherExclude': { [`**/${ANSWERS}/**`]: true } }),
  );
  try {
    await runTests({
      ...(desktop ? {} : { vscodeExecutablePath: join(import.meta.dirname, 'launcher.ts') }),
      extensionDevelopmentPath: EXTENSION,
      extensionTestsPath: join(SUITE, 'index.js'),
      launchArgs: [folder, ...(host === 'web' ? ['--extensionDevelopmentKind=web'] : [])],
    });
  } catch (error) {
    failed = true;
    console.error(error instanceof Error ? error.message : error);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
process.exitCode = failed ? 1 : 0;
