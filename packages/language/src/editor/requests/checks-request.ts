import type { Assessment } from '../../analysis/assessment.ts';
import { type Finding, packsOf } from '../../checks/finding.ts';
import { checkDocument } from '../../checks/run.ts';
import { readDocument } from '../../checks/text/read-document.ts';
import { severityOfProblem } from '../../checks/text/text-problems.ts';
import type { Build } from '../../model/build.ts';
import { isSlipOf } from '../../model/resting.ts';
import type { FileDocument } from '../../syntax/nodes.ts';
import { isSameStart } from '../../syntax/place.ts';
import type { Problem } from '../../syntax/problem.ts';
import { isWish } from '../../vocabulary/findings.ts';
import type { ChecksOnPack } from './protocol.ts';

/** Whether a file's builds are without errors, pack by pack. */
export class ChecksOf {
  readonly #problems: readonly Problem[];
  readonly #findings: readonly Finding[];
  readonly #isDefective: boolean;

  constructor(document: FileDocument) {
    const model = readDocument(document);
    const { findings, defects } = checkDocument(model);
    this.#problems = [...model.problems, ...model.elsewhere];
    this.#findings = findings.filter(({ severity, accepted }) => severity === 'error' && accepted === undefined);
    this.#isDefective = defects.length > 0;
  }

  on(build: Build, { option, points }: Assessment): ChecksOnPack {
    const errors = this.#findings.filter(
      (finding) => finding.build === build.name && isOn(finding, option.name) && !isOfRequirement(finding, build),
    );
    if (errors.length > 0) {
      const message = [...new Set(errors.map(({ id }) => id))].join(', ');
      return { verdict: 'fails', message, errors: errors.map(({ message }) => message) };
    }
    const slips = this.#problems.filter((problem) => keepsFromJudging(problem, build) && isSlipOf(build, problem));
    const [first] = slips;
    if (first !== undefined) {
      const more = slips.length > 1 ? ` (and ${slips.length - 1} more)` : '';
      return notJudged(`not judged: ${first.message}${more}`);
    }
    if (this.#isDefective) return NOT_COMPUTED;
    if (points.hover === undefined) return notJudged('not judged: the build states too little to compute a flight');
    return { verdict: 'holds', message: 'no errors', errors: [] };
  }
}

const notJudged = (message: string) => ({ verdict: 'cannot be judged' as const, message, errors: [] });

/** A mistake of ours; its file names it. */
export const NOT_COMPUTED = notJudged('not judged: an error inside Fettle, reported at the top of the file');

/** An error of the text; or what the build itself lacks, although that is only a hint while others bring it along. */
const keepsFromJudging = (problem: Problem, build: Build): boolean =>
  severityOfProblem(problem) === 'error' || (problem.id === 'missing-value' && isSameStart(problem.place, build.place));

/** A requirement has a verdict of its own, and its finding would be reported twice; a margin on ratings (`keep`) has none. */
const isOfRequirement = ({ id, place, related }: Finding, { rules }: Build): boolean =>
  isWish(id) &&
  rules.requirements.some((one) =>
    [place, ...related.map((other) => other.place)].some((other) => isSameStart(other, one.place)),
  );

function isOn(finding: Finding, name: string): boolean {
  const packs = packsOf(finding);
  return packs.length === 0 || (packs.includes(name) && finding.milderOn?.includes(name) !== true);
}
