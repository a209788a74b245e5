/** A review as SARIF: every finding that the change reaches, with what became of it (`baselineState`, 3.27.24). */
import { type Reported, sarifOf } from '../formats/sarif.ts';
import type { FindingChange, FindingStatus } from './finding-changes.ts';
import type { Review } from './review-data.ts';

type State = NonNullable<Reported['baseline']>['state'];

/** What is newly accepted was there before, or it is new and accepted at once. */
const STATES: Readonly<Record<Exclude<FindingStatus, 'accepted'>, State>> = {
  new: 'new',
  worse: 'updated',
  eased: 'updated',
  open: 'unchanged',
  'still-accepted': 'unchanged',
  resolved: 'absent',
  hidden: 'absent',
};

/** @param version of the program, for its name in the log */
export function reviewSarif({ builds, text, failures, pathOf, before, after }: Review, version: string): string {
  const changes = [...builds.flatMap(({ findings }) => findings), ...text];
  const reported = changes.map((change): Reported => {
    const state = stateOf(change);
    // What is offered to people has been computed through; here nothing was.
    const finding = { ...change.finding, fixes: [] };
    const baseline = { state, status: change.status, packs: change.packs };
    return { finding, sources: state === 'absent' ? before : after, baseline };
  });
  return sarifOf({ reported, failures, pathOf, root: 'The root of the repository.' }, version);
}

const stateOf = ({ status, before }: FindingChange): State =>
  status === 'accepted' ? (before ? 'updated' : 'new') : STATES[status];
