/** `fettle try`: what if, without editing. */
import type { Assessment } from '../analysis/assessment.ts';
import { checkDocument } from '../checks/run.ts';
import { readDocument } from '../checks/text/read-document.ts';
import { type Failure, findingsAbout } from '../report/checked.ts';
import { type Tried, type TriedSide, triedOf } from '../report/decide/tried.ts';
import { triedJson, triedMarkdown, triedText } from '../report/decide/tried-text.ts';
import { buildWith, CannotTry } from '../trial/trial-lines.ts';
import { atLeast, type Severity } from '../vocabulary/severities.ts';
import { worstOf } from './checked-files.ts';
import type { TableFormat } from './formats.ts';
import { assessmentsOn, openedBuild } from './named-builds.ts';
import { Refusal } from './refuse.ts';

export interface TryOptions {
  /** Files and folders to look in. */
  readonly in: readonly string[];
  readonly with?: string;
  readonly format: TableFormat;
  readonly failOn: Severity;
}

/** Prints what lines do to a build; returns the exit code: 1 when a new finding is as severe as requested, 2 where a file could not be read. */
export async function tryLines(name: string, lines: readonly string[], options: TryOptions): Promise<number> {
  const { tried, failures } = await triedLines(name, lines, options);
  const print = { text: triedText, markdown: triedMarkdown, json: triedJson }[options.format];
  process.stdout.write(print(tried));
  const fails = tried.findings.some(
    ({ move, finding }) => (move === 'new' || move === 'worse') && atLeast(finding.severity, options.failOn),
  );
  return worstOf(failures, fails ? 1 : 0);
}

async function triedLines(
  name: string,
  lines: readonly string[],
  options: TryOptions,
): Promise<{ readonly tried: Tried; readonly failures: readonly Failure[] }> {
  const { checked, found, document, services } = await openedBuild(name, options.in);
  const requested = assessmentsOn(options.with === undefined ? undefined : [options.with], found);
  try {
    const { build, trial, changesPack } = await buildWith(services, document, name, lines);
    const after = checkDocument(readDocument(trial.document));
    const then = after.builds.find((one) => one.build === build);
    if (!then) throw new Error(`${build.name} was not checked`);
    const before: TriedSide = { ...found, findings: findingsAbout(found.build, checked) };
    const side: TriedSide = { ...then, findings: after.findings.filter((one) => one.build === build.name) };
    const pairs = changesPack ? exchanged(requested, then.assessments) : onSamePacks(requested, then.assessments);
    if (pairs.length === 0) throw new Refusal(`nothing can be computed for ${name} with these lines`);
    return { tried: triedOf(before, side, lines, pairs), failures: checked.failures };
  } catch (error) {
    if (error instanceof CannotTry) throw new Refusal(`“${error.line}”: ${error.message}`);
    throw error;
  }
}

type Pair = readonly [Assessment, Assessment];

const onSamePacks = (before: readonly Assessment[], after: readonly Assessment[]): Pair[] =>
  before.flatMap((one): Pair[] => {
    const other = after.find(({ option }) => option.name === one.option.name);
    return other ? [[one, other]] : [];
  });

/** Against the pack of the same name, else the first one of now. */
const exchanged = (before: readonly Assessment[], after: readonly Assessment[]): Pair[] =>
  after.flatMap((other): Pair[] => {
    const one = before.find(({ option }) => option.name === other.option.name) ?? before[0];
    return one ? [[one, other]] : [];
  });
