/** The second action: writes static pages about every build, for a forge's pages to publish. */
import { spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { annotateError, input, linesOf, NOT_RUN } from './runner.ts';

const tryPage = input('try');
const args = ['site', `--title=${input('title')}`, ...(tryPage === '' ? [] : [`--try=${tryPage}`])];
const { status, error } = spawnSync(
  process.execPath,
  [join(import.meta.dirname, 'bin/fettle.js'), ...args, '--', input('out'), ...linesOf('paths')],
  { stdio: 'inherit' },
);
if (error) annotateError(error.message);
process.exitCode = status ?? NOT_RUN;
