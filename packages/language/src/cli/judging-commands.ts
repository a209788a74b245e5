/** The commands that check: builds, and what a change does to them. */
import { type Command, InvalidArgumentError, Option } from 'commander';
import type { ReviewFailure } from '../report/review/gravity.ts';
import { ABOVE_HINTS } from '../vocabulary/severities.ts';
import type { CheckOptions } from './check-command.ts';
import { command, failOnOption, formatOption, hereIfNone, JUDGE, PATHS } from './command-options.ts';
import { CHECK_FORMATS, REVIEW_FORMATS } from './formats.ts';
import type { ReviewOptions } from './review-command.ts';

const REVIEW_FAILURES = [...ABOVE_HINTS, 'forgiven'] as const;

const reviewFailOn = new Option(
  '--fail-on <severity>',
  'exit with 1 when a new finding is at least this severe; forgiven: at new errors, and when more is permitted than before (a limit raised, a requirement loosened, a finding accepted); several with commas',
)
  .choices(REVIEW_FAILURES)
  .argParser((value): readonly ReviewFailure[] => {
    const words = value.split(',').map((word) => word.trim());
    const known = words.flatMap((word) => REVIEW_FAILURES.find((one) => one === word) ?? []);
    if (known.length < words.length)
      throw new InvalidArgumentError(`Allowed choices are ${REVIEW_FAILURES.join(', ')}.`);
    return known;
  })
  .default(['error'], 'error');

export function addCheck(program: Command): void {
  command(program, 'check', {
    group: JUDGE,
    summary: 'find what would break, and compute each build',
    description:
      'Checks .fettle files and folders: findings with file, line and fix, and the results of each build on each pack.',
    examples: [
      'fettle check                        this folder and all below it',
      'fettle check builds --watch         again at every change',
      'fettle check --fail-on warning      for a strict build server',
      'fettle check --format sarif > a.sarif',
    ],
  })
    .argument('[paths...]', PATHS)
    .addOption(formatOption(CHECK_FORMATS, 'how to print'))
    .addOption(failOnOption('a finding'))
    .option('--explain', 'with --format json: the derivation of each result, and results that need a search')
    .option('--watch', 'keep running, and check again what a change affects; Ctrl-C stops it')
    .action(async (paths: string[], options: CheckOptions) => {
      const { check } = await import('./check-command.ts');
      process.exitCode = await check(hereIfNone(paths), options);
    });
}

export function addReview(program: Command): void {
  command(program, 'review', {
    group: JUDGE,
    summary: 'what a change does to every build, and which line did it',
    description:
      'Compares two versions of a git repository: results and findings of every build that the change touches, before and after, and which line did it. Nothing is checked out.',
    examples: [
      'fettle review --base main           this work compared with the commit at which it left main',
      'fettle review --base HEAD           what is not committed yet',
      'fettle review --base HEAD --staged  what the next commit does',
      'fettle review --base v1 --head v2 --format markdown',
    ],
  })
    .argument('[paths...]', 'files and folders whose builds count; default: this folder')
    .requiredOption('--base <revision>', 'what to compare with; of a branch, the commit at which this work left it')
    .option('--head <revision>', 'what to review; by default the working tree')
    .option('--staged', 'review what is staged, in place of the working tree')
    .option('--direct', 'compare with the tip of a branch itself')
    .addOption(formatOption(REVIEW_FORMATS))
    .addOption(reviewFailOn)
    .action(async (paths: string[], options: ReviewOptions) => {
      const { reviewChange } = await import('./review-command.ts');
      process.exitCode = await reviewChange(hereIfNone(paths), options);
    });
}
