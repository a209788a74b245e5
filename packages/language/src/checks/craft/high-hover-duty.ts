/** Hovering takes most of what the drive can give. */
import { measurable } from '../../analysis/uncertainty/estimate.ts';
import { formatEstimate } from '../../analysis/uncertainty/print-estimate.ts';
import type { Check, Draft, OptionSubject } from '../check.ts';
import { gradeAbove } from '../grade.ts';
import { liftAndLoad } from '../shared/contributing.ts';
import { liftMore } from '../shared/duty.ts';
import { boundNumber, number, percent } from '../shared/finding-numbers.ts';
import { THRESHOLDS } from '../thresholds.ts';

const { warning, error } = THRESHOLDS.highHoverDuty;

export const highHoverDuty: Check = {
  id: 'high-hover-duty',
  option: findHighDuty,
  folds: ['low-thrust'],
  page: {
    title: 'Hovering takes most of the duty',
    cause:
      'Duty climbs as the pack empties. Near the limit the drive saturates in every correction and the craft loses control of its attitude.',
    criterion: `hover duty at the reserve above ${percent(warning)} warning, above ${percent(error)} error; a duty limit counts as full. Of this and low-thrust the more severe one is shown.`,
    standing: 'Thresholds: ours.',
    remedy: 'A larger or steeper propeller, a higher kV, more cells, a higher duty limit, or less mass.',
    fixes: [],
    fails: `build Stretched like Healthy {
  without: Mast900_4S
  pack: Mast900_4S as Stretched duty 49 %
}`,
    passes: `build Easy like Healthy {
  item: 2 g "tape"
}`,
  },
};

function* findHighDuty({ option, assessment }: OptionSubject): Iterable<Draft> {
  const duty = assessment.results.get('reserve_hover_duty')?.estimate;
  const limit = option.dutyLimit.value;
  const severity =
    duty &&
    gradeAbove(measurable(duty), [
      { past: warning * limit, severity: 'warning' },
      { past: error * limit, severity: 'error' },
    ]);
  if (!duty || !severity) return;
  const ofLimit = limit < 1 ? ` of a limit of ${percent(limit)}` : '';
  yield {
    severity,
    get question() {
      return `whether hover stays below ${percent(warning)} duty at the reserve (${formatEstimate(duty, '%')} on ${option.name})`;
    },
    get message() {
      return `Hover takes ${formatEstimate(duty, '%')} duty${ofLimit} at the reserve on ${option.name}: too little is left to control attitude. ${liftMore(option)}`;
    },
    names: [option],
    place: option.place,
    numbers: [number('hover_duty', duty, '%'), boundNumber('limit', warning * limit, '%')],
    get related() {
      return liftAndLoad(assessment);
    },
  };
}
