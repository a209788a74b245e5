/** Too little thrust reserve to fly, climb out of sink, or keep position in wind. */
import { assessPlainly } from '../../analysis/assess.ts';
import type { Estimate } from '../../analysis/assessment.ts';
import { withWeight } from '../../analysis/decide/changed-craft.ts';
import { ends, measurable } from '../../analysis/uncertainty/estimate.ts';
import { formatEstimate } from '../../analysis/uncertainty/print-estimate.ts';
import type { Check, Draft, OptionSubject } from '../check.ts';
import { gradeBelow } from '../grade.ts';
import { liftAndLoad } from '../shared/contributing.ts';
import { liftMore } from '../shared/duty.ts';
import { boundNumber, number } from '../shared/finding-numbers.ts';
import { THRESHOLDS } from '../thresholds.ts';

const { information, warning, error } = THRESHOLDS.lowThrust;
/** Nobody lightens a craft until it just flies: thrust-to-weight at the reserve of one that flies well. */
const SOUND = 3;

export const lowThrust: Check = {
  id: 'low-thrust',
  option: findLowThrust,
  folds: ['high-hover-duty', 'pack-overcurrent', 'pack-oversag'],
  page: {
    title: 'Too little thrust reserve',
    cause:
      'Attitude control works by adding thrust on one side. With little thrust in reserve the craft wallows, sinks in turns, and cannot stop a descent in its own wake, first of all near the end of the pack.',
    criterion: `thrust-to-weight at the reserve: below ${information} information, below ${warning} warning, below ${error} error.`,
    standing: 'Thresholds: ours.',
    remedy: 'Less mass, a larger or steeper propeller, more cells, or a higher duty limit.',
    fixes: [],
    fails: `build Reined like Healthy {
  without: Mast900_4S
  pack: Mast900_4S as Reined duty 43 %
}`,
    passes: `build Light like Healthy {
  item: 2 g "tape"
}`,
  },
};

function* findLowThrust({ build, option, assessment }: OptionSubject): Iterable<Draft> {
  const ratio = assessment.results.get('reserve_thrust_to_weight')?.estimate;
  const severity =
    ratio &&
    gradeBelow(measurable(ratio), [
      { past: information, severity: 'information' },
      { past: warning, severity: 'warning' },
      { past: error, severity: 'error' },
    ]);
  if (!ratio || !severity) return;
  yield {
    severity,
    get question() {
      return `whether thrust-to-weight stays above ${warning} at the reserve (${formatEstimate(ratio, '1')} on ${option.name})`;
    },
    get message() {
      return `Thrust-to-weight on ${option.name} is ${formatEstimate(ratio, '1')} at the reserve${hovering(ratio)}; below ${warning} there is little left to climb, stop a sink or keep attitude. ${liftMore(option)}`;
    },
    names: [option],
    place: option.place,
    numbers: [number('thrust_to_weight', ratio, '1'), boundNumber('limit', warning, '1')],
    get related() {
      return liftAndLoad(assessment);
    },
    cured: () => assessPlainly(build, option, withWeight(ratio.value / SOUND)),
  };
}

function hovering(ratio: Estimate): string {
  if (ratio.value >= 1) return '';
  return ends(ratio).high < 1 ? ', where it cannot hover' : ', where it likely cannot hover';
}
