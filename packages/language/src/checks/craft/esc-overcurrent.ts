/** More current through an ESC channel than it is rated for. */
import type { Check, Draft, OptionSubject } from '../check.ts';
import { gradeAbove } from '../grade.ts';
import { anotherPart } from '../shared/duty.ts';
import { formatExact, relativeTo } from '../shared/finding-numbers.ts';
import { dutyFix, overcurrentDraft, ratingAbove, within } from '../shared/overcurrent.ts';
import { burstRatingWords, escShortRating, hardestRotor, weakestBoard } from '../shared/ratings.ts';
import { THRESHOLDS } from '../thresholds.ts';

const { warning, error, continuous: flownShare } = THRESHOLDS.escOvercurrent;

export const escOvercurrent: Check = {
  id: 'esc-overcurrent',
  option: findOvercurrent,
  page: {
    title: 'More current through an ESC channel than it is rated for',
    cause:
      'A channel’s switches heat with the square of the current and fail shorted: the craft drops, and the pack feeds the short. A propeller that jams draws several times more still; that is a result (stall_ratio), not this finding.',
    criterion: `full-duty current of one channel over its burst rating (absent: 1.2 × continuous): above ${warning} warning, above ${error} error. Root mean square of the flight as flown above ${flownShare} × continuous: warning.`,
    standing: 'Thresholds: ours. Burst 1.2 × continuous when it is not stated: common practice.',
    remedy:
      'Limit the duty, or take a board with a higher rating: one size up also leaves headroom for a jammed propeller.',
    fixes: ['computed', 'another-part'],
    fails: `esc Weak like Board28 {
  continuous: 2.6 A
  burst: 3 A for 8 s
}
build Thirsty like Healthy {
  esc: Weak
}`,
    passes: `build Roomy like Healthy {
  esc: Board28
}`,
  },
};

function* findOvercurrent(subject: OptionSubject): Iterable<Draft> {
  const { assessment, build } = subject;
  const burstBoard = weakestBoard(build.escs, 'burst');
  const short = burstBoard && escShortRating(burstBoard);
  const full = hardestRotor(assessment.rotors, (rotor) => rotor.fullCurrent);
  if (burstBoard && short && full) {
    const severity = gradeAbove(relativeTo(full, short.limit), [
      { past: warning, severity: 'warning' },
      { past: error, severity: 'error' },
    ]);
    if (severity) {
      yield overcurrentDraft(subject, {
        severity,
        value: full,
        limit: short.limit,
        part: burstBoard,
        figure: short.figure,
        what: `At full duty a channel of ${burstBoard.name} draws`,
        rating: burstRatingWords(burstBoard, short),
        consequence: 'A switch that fails drops the craft.',
        fixes: () =>
          dutyFix(
            subject,
            within(short.limit, (tried) => hardestRotor(tried.rotors, (rotor) => rotor.fullCurrent)),
            `${burstBoard.name} then stays within ${formatExact(short.limit, 'A')} per channel`,
            `take a board that withstands ${ratingAbove(full.value, 'A')} per channel for seconds`,
          ),
      });
      return;
    }
  }
  const continuousBoard = weakestBoard(build.escs, 'continuous');
  const continuous = continuousBoard?.declared('continuous');
  const mix = hardestRotor(assessment.rotors, (rotor) => rotor.mixCurrent);
  if (continuousBoard && continuous && mix) {
    const severity = gradeAbove(relativeTo(mix, continuous.value), [{ past: flownShare, severity: 'warning' }]);
    if (severity) {
      yield overcurrentDraft(subject, {
        severity,
        value: mix,
        limit: continuous.value,
        part: continuousBoard,
        figure: continuous,
        what: `Over the flight as flown a channel of ${continuousBoard.name} draws`,
        rating: `its continuous rating of ${formatExact(continuous.value, 'A')}`,
        consequence: `Above ${flownShare * 100} % of it there is no reserve for gusts and heat.`,
        fixes: [anotherPart(`take a board rated for ${ratingAbove(mix.value / flownShare, 'A')} per channel or more`)],
      });
    }
  }
}
