/** More current through the winding than the motor is rated for, for seconds or for the whole flight. */
import type { Check, Draft, OptionSubject } from '../check.ts';
import { gradeAbove } from '../grade.ts';
import { formatExact, relativeTo } from '../shared/finding-numbers.ts';
import { atKeepingDuty, dutyFix, overcurrentDraft, ratingAbove, within } from '../shared/overcurrent.ts';
import { burstRating, burstRatingWords, continuousRatingWords, motorContinuousRating } from '../shared/ratings.ts';
import { THRESHOLDS } from '../thresholds.ts';

const { warning, error, continuous: flownShare } = THRESHOLDS.motorOvercurrent;

export const motorOvercurrent: Check = {
  id: 'motor-overcurrent',
  option: findOvercurrent,
  folds: ['motor-overpower', 'motor-overspeed', 'esc-overcurrent', 'pack-overcurrent', 'pack-oversag'],
  page: {
    title: 'More current through the motor than it is rated for',
    cause:
      'Copper loss grows with the square of the current. Above the burst rating the enamel and the magnets survive for seconds; above the continuous rating the motor overheats during the flight.',
    criterion: `full-duty current over the burst rating (\`burst\`, or an unlabelled \`max\`): above ${warning} warning, above ${error} error. Root mean square of the flight as flown over the continuous rating (absent: half of \`max\`): above ${flownShare} warning.`,
    standing:
      'Thresholds: ours. A rating from a part’s data sheet is its maker’s claim and is preferred to any estimate here.',
    remedy: 'Limit the duty, take a smaller or flatter propeller, or a motor with more copper.',
    fixes: ['computed', 'another-part'],
    fails: `motor Thin like M1805 {
  continuous: 2 A
  burst: 3 A for 8 s
}
build Hungry like Healthy {
  motors: 4 x Thin with P4024x3
}`,
    passes: `motor Thick like M1805 {
  burst: 22 A for 8 s
}
build Fed like Healthy {
  motors: 4 x Thick with P4024x3
}`,
  },
};

function* findOvercurrent(subject: OptionSubject): Iterable<Draft> {
  for (const [index, rotor] of subject.assessment.rotors.entries()) {
    const { motor } = rotor.line;
    const { fullCurrent } = rotor;
    const short = burstRating(motor);
    if (short && fullCurrent) {
      const severity = gradeAbove(relativeTo(fullCurrent, short.value), [
        { past: warning, severity: 'warning' },
        { past: error, severity: 'error' },
      ]);
      if (severity) {
        const keeps = within(short.value, (tried) => tried.rotors[index]?.fullCurrent);
        const draft = overcurrentDraft(subject, {
          severity,
          value: fullCurrent,
          limit: short.value,
          part: motor,
          figure: short,
          what: `At full duty each ${motor.name} draws`,
          rating: burstRatingWords(motor, { limit: short.value, figure: short }),
          consequence: 'The winding burns within seconds.',
          fixes: () =>
            dutyFix(
              subject,
              keeps,
              `${motor.name} then stays within ${formatExact(short.value, 'A')}`,
              `take a motor that withstands ${ratingAbove(fullCurrent.value, 'A')} for seconds, or a smaller propeller`,
            ),
        });
        yield { ...draft, cured: () => atKeepingDuty(subject, keeps) };
        continue;
      }
    }
    const continuous = motorContinuousRating(motor);
    if (continuous && rotor.mixCurrent) {
      const severity = gradeAbove(relativeTo(rotor.mixCurrent, continuous.limit), [
        { past: flownShare, severity: 'warning' },
      ]);
      if (severity) {
        const draft = overcurrentDraft(subject, {
          severity,
          value: rotor.mixCurrent,
          limit: continuous.limit,
          part: motor,
          figure: continuous.figure,
          what: `Over the flight as flown each ${motor.name} draws`,
          rating: continuousRatingWords(motor, continuous),
          consequence: 'It runs hot all flight long: land early and feel the bells, or fly it lighter.',
          fixes: [],
        });
        // An average implies nothing about the board or the pack.
        yield { ...draft, cured: () => subject.assessment };
      }
    }
  }
}
