/** "Limit the duty so that this holds": searched on demand, for findings whose check brings no such fix along. */
import { assess, assessPlainly } from '../analysis/assess.ts';
import type { Assessment } from '../analysis/assessment.ts';
import { withDutyLimit } from '../analysis/decide/changed-craft.ts';
import type { Build, PackOption } from '../model/build.ts';
import type { Place } from '../syntax/place.ts';
import { atLeast, isGraver, worstFirst } from '../vocabulary/severities.ts';
import { type Check, type Draft, fixesOf } from './check.ts';
import { type Finding, type Fix, packsOf } from './finding.ts';
import { CHECKS } from './registry.ts';
import { limitDuty } from './shared/duty.ts';

/** Percent. Below the lowest nothing flies. */
const LOWEST = 10;
const COARSE_STEP = 5;
/** The ± may require a little less duty than the values alone; for more than this it is another craft. */
const MOST_MORE = 10;

/** A figure that cannot be true is not made true by flying more gently, nor is a flight ended by it. */
const ABOUT_FIGURES: ReadonlySet<string> = new Set([
  'claims-disagree',
  'observed-disagrees',
  'mass-unexplained',
  'flight-ends-aloft',
]);

/** A fix for each pack that meets the finding and that a duty limit cures without bringing a new error or warning. */
export function dutyCures(build: Build, finding: Finding): Fix[] {
  const check = CHECKS.find(({ id }) => id === finding.id);
  if (check?.option === undefined || ABOUT_FIGURES.has(check.id)) return [];
  return packsOf(finding).flatMap((name) => {
    const option = build.packs.find((candidate) => candidate.name === name);
    const percent = option && curingPercent(build, option, check, finding.place);
    return percent === undefined || !option ? [] : [limitDuty(option, percent / 100, reasonOf(build, finding))];
  });
}

function reasonOf(build: Build, { id, place }: Finding): string {
  const requirement = build.rules.requirements.find((one) => isSamePlace(one.place, place));
  return requirement ? `${requirement.text} then holds` : `${id} is then gone`;
}

/** The largest whole percent at which the check is silent at this place; undefined where there is none. */
function curingPercent(build: Build, option: PackOption, check: Check, place: Place): number | undefined {
  const holdsBy = (assessor: typeof assess) => (percent: number) => {
    const limited = withDutyLimit(option, percent / 100);
    return isSilent(check, assessor(build, limited), place);
  };
  const present = mostPercent(build, option, check, place);
  const holdsPlainly = holdsBy((one, limited) => assessPlainly(one, limited));
  const coarse = stepsBelow(present, LOWEST, COARSE_STEP).find(holdsPlainly);
  if (coarse === undefined) return undefined;
  const fine = stepsBelow(Math.min(present, coarse + COARSE_STEP), coarse, 1).find(holdsPlainly) ?? coarse;
  const holds = holdsBy(assess);
  const percent = stepsBelow(fine + 1, Math.max(LOWEST, fine - MOST_MORE), 1).find(holds);
  return percent !== undefined && bringsNothingWorse(build, option, percent) ? percent : undefined;
}

/** Not above today's limit; where the check searches for a duty itself, which keeps the rating and not only silence, not above that. */
function mostPercent(build: Build, option: PackOption, check: Check, place: Place): number {
  const assessment = assess(build, option);
  const own = [...(check.option?.({ build, option, assessment }) ?? [])]
    .filter((draft) => isSamePlace(ownPlace(draft.place, build), place))
    .flatMap((draft) =>
      fixesOf(draft).flatMap(({ trial }) => (trial && 'duty' in trial ? Math.round(trial.duty * 100) + 1 : [])),
    );
  return Math.min(option.dutyLimit.value * 100, ...own);
}

/** Whole percents below one, in steps, down to another. */
function stepsBelow(from: number, to: number, step: number): number[] {
  const first = Math.ceil(from) - 1;
  const count = Math.max(0, Math.floor((first - to) / step) + 1);
  return Array.from({ length: count }, (_, index) => first - index * step);
}

/** Whether a check reports nothing at a place; `mayStay`: the worst that it may still report. */
export function isSilent(check: Check, assessment: Assessment, place: Place, mayStay?: 'information'): boolean {
  const { build, option } = assessment;
  const drafts = [...(check.option?.({ build, option, assessment }) ?? [])];
  return drafts.every(
    ({ severity, place: found }) =>
      severity === 'undecided' ||
      !isSamePlace(ownPlace(found, build), place) ||
      (mayStay !== undefined && !atLeast(severity, 'warning')),
  );
}

/** Where a finding is placed when its build inherits the line from another file. */
const ownPlace = (place: Place, build: Build): Place => (place.uri === build.uri ? place : build.place);

export const isSamePlace = (a: Place, b: Place): boolean => a.uri === b.uri && a.start === b.start && a.end === b.end;

/** A craft that keeps its currents and does not lift off any more, or hardly, is not cured. */
function bringsNothingWorse(build: Build, option: PackOption, percent: number): boolean {
  return worseThan(assess(build, option), assess(build, withDutyLimit(option, percent / 100))).length === 0;
}

/** The checks that warn and did not, or report worse than they did. */
export function worseThan(before: Assessment, after: Assessment): string[] {
  const was = graveOf(before);
  return [...graveOf(after)].flatMap(([id, severity]) => (isGraver(severity, was.get(id) ?? 'undecided') ? [id] : []));
}

/** The checks that warn, or worse, each with the worst that it reports. */
function graveOf(assessment: Assessment): ReadonlyMap<string, Draft['severity']> {
  const { build, option } = assessment;
  return new Map(
    CHECKS.flatMap((check) => {
      const [worst] = [...(check.option?.({ build, option, assessment }) ?? [])].sort(worstFirst);
      return worst && atLeast(worst.severity, 'warning') ? [[check.id, worst.severity] as const] : [];
    }),
  );
}
