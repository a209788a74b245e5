/** `fettle solve`: how far a figure goes until a requirement fails. */
import { assess } from '../analysis/assess.ts';
import type { Assessment } from '../analysis/assessment.ts';
import { type Knob, knobNamed, knobsOf } from '../analysis/decide/knobs.ts';
import { isAskedOn, judge } from '../analysis/decide/requirements.ts';
import { type Direction, isDecisive, type Solved, solve } from '../analysis/decide/solver.ts';
import { worseThan } from '../checks/duty-cure.ts';
import { packWords } from '../model/arrangements.ts';
import type { Requirement } from '../model/build.ts';
import { type SolvedOption, solvedJson, solvedMarkdown, solvedText } from '../report/decide/solved-text.ts';
import { buildWith, CannotTry } from '../trial/trial-lines.ts';
import { listed } from '../vocabulary/phrasing.ts';
import { worstOf } from './checked-files.ts';
import type { TableFormat } from './formats.ts';
import { assessmentsOn, type OpenedBuild, openedBuild } from './named-builds.ts';
import { notThere, Refusal } from './refuse.ts';

export interface SolveOptions {
  readonly most?: string;
  readonly least?: string;
  readonly keep: readonly string[];
  readonly in: readonly string[];
  readonly with?: string;
  readonly format: TableFormat;
}

/** Prints the answer on each pack; returns the exit code: 1 where there is none on any, 2 where a file could not be read. */
export async function solveFor(name: string, options: SolveOptions): Promise<number> {
  const [direction, asked] = requiredOf(options);
  const opened = await openedBuild(name, options.in);
  const requirements = await requirementsOf(opened, options.keep);
  const on = assessmentsOn(options.with === undefined ? undefined : [options.with], opened.found);
  const solved = on.flatMap((assessment) => solvedOn(assessment, asked, direction, requirements));
  const kept = requirements.map(({ text }) => text);
  const print = { text: solvedText, markdown: solvedMarkdown, json: solvedJson }[options.format];
  process.stdout.write(print({ build: name, direction, kept: [...new Set(kept)], options: solved }));
  return worstOf(opened.checked.failures, solved.every((one) => 'never' in one.solved) ? 1 : 0);
}

function requiredOf({ most, least }: SolveOptions): [Direction, string] {
  if ((most === undefined) === (least === undefined))
    throw new Refusal('state either --most FIGURE or --least FIGURE, such as --most "item mass"');
  return most === undefined ? ['least', least ?? ''] : ['most', most];
}

/** As the build would read them: with its rails' names, and its units. Without any, those of the build itself. */
async function requirementsOf(
  { found, document, services }: OpenedBuild,
  kept: readonly string[],
): Promise<readonly Requirement[]> {
  const { name, rules } = found.build;
  if (kept.length === 0) {
    if (rules.requirements.length > 0) return rules.requirements;
    throw new Refusal(`${name} requires nothing: state what has to hold, --keep "thrust_to_weight >= 2"`);
  }
  const lines = kept.map((text) => `require ${text.replace(/^\s*require\b/, '').trim()}`);
  try {
    const { build, trial } = await buildWith(services, document, name, lines);
    return build.rules.requirements.filter(
      ({ place }) => place.uri === document.uri.toString() && place.start >= trial.from,
    );
  } catch (error) {
    if (error instanceof CannotTry)
      throw new Refusal(`--keep “${error.line.replace(/^require ?/, '')}”: ${error.message}`);
    throw error;
  }
}

function solvedOn(
  { build, option }: Assessment,
  figure: string,
  direction: Direction,
  requirements: readonly Requirement[],
): SolvedOption[] {
  const knobs = knobsOf(build, option);
  const { knob, several } = knobNamed(figure, knobs);
  if (!knob) {
    if (several.length > 1)
      throw new Refusal(`several parts have ${figure}: state one of ${several.map(({ name }) => name).join(', ')}`);
    throw notThere(
      'figure',
      figure,
      knobs.map(({ name }) => name),
    );
  }
  const asked = requirements.filter((one) => isAskedOn(one, option));
  const solved = solve(build, knob, direction, asked);
  if (!solved) return [];
  if ('unlimited' in solved && !isDecisive(build, knob, asked))
    throw new Refusal(
      `${knob.name} changes nothing in ${listed(asked.map(({ text }) => text))}: state a requirement that depends on it`,
    );
  return [{ pack: option.name, packWords: packWords(option), knob, solved, ...alsoWarning(knob, solved) }];
}

/** What else would be wrong with the answer, and is not today. */
function alsoWarning(knob: Knob, solved: Solved): Pick<SolvedOption, 'warning' | 'failing'> {
  if (!('at' in solved)) return { warning: [], failing: [] };
  const { at: then } = solved;
  const { build } = then;
  const now = assess(build, knob.at(knob.now).option);
  const warning = worseThan(now, then);
  const fails = (requirement: Requirement, of: Assessment) => judge(requirement, of).leaning === 'fails';
  const failing = build.rules.requirements
    .filter((one) => isAskedOn(one, then.option) && fails(one, then) && !fails(one, now))
    .map(({ text }) => text);
  const ofRequirements = ['requirement-fails', 'requirement-unsure', 'overweight', 'short-flight', 'weak-in-wind'];
  return { warning: warning.filter((id) => !ofRequirements.includes(id)), failing };
}
