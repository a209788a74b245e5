/** More electrical power into the motor than it is rated for. */
import { dutyLimitFor } from '../../analysis/decide/changed-craft.ts';
import { formatEstimate } from '../../analysis/uncertainty/print-estimate.ts';
import type { Check, Draft, OptionSubject } from '../check.ts';
import { gradeAbove } from '../grade.ts';
import { anotherPart, limitDuty } from '../shared/duty.ts';
import { boundNumber, formatExact, number, percent, relativeTo } from '../shared/finding-numbers.ts';
import { ratingAbove } from '../shared/overcurrent.ts';
import { THRESHOLDS } from '../thresholds.ts';

const { warning, error } = THRESHOLDS.motorOverpower;

export const motorOverpower: Check = {
  id: 'motor-overpower',
  option: findOverpower,
  page: {
    title: 'More power into the motor than it is rated for',
    cause:
      'What goes in and does not leave as thrust stays as heat. Above the power that it is rated for, a motor lasts for seconds.',
    criterion: `full-duty electrical power over the motor’s \`power\`: above ${warning} warning, above ${error} error. Only where it is declared; folded into motor-overcurrent where that holds.`,
    standing: 'Thresholds: ours. The rating is the maker’s claim.',
    remedy: 'Limit the duty, take a smaller or flatter propeller, or a larger motor.',
    fixes: ['computed', 'another-part'],
    fails: `motor Faint like M1805 {
  burst: none
  power: 45 W
}
build Driven like Healthy {
  motors: 4 x Faint with P4024x3
}`,
    passes: `motor Strong like M1805 {
  power: 260 W
}
build Easy like Healthy {
  motors: 4 x Strong with P4024x3
}`,
  },
};

function* findOverpower({ build, option, assessment }: OptionSubject): Iterable<Draft> {
  for (const [index, { line, fullPower }] of assessment.rotors.entries()) {
    const rating = line.motor.declared('power');
    if (!rating || !fullPower) continue;
    const severity = gradeAbove(relativeTo(fullPower, rating.value), [
      { past: warning, severity: 'warning' },
      { past: error, severity: 'error' },
    ]);
    if (!severity) continue;
    yield {
      severity,
      question: `whether ${line.motor.name} stays within its ${formatExact(rating.value, 'W')} (${formatEstimate(fullPower, 'W')})`,
      message: `At full duty each ${line.motor.name} takes ${formatEstimate(fullPower, 'W')}, ${percent(fullPower.value / rating.value)} of the ${formatExact(rating.value, 'W')} it is rated for. It burns within seconds.`,
      names: [line.motor],
      place: option.dutyPlace ?? option.place,
      numbers: [number('power', fullPower, 'W'), boundNumber('limit', rating.value, 'W')],
      related: rating.place ? [{ message: `rated for ${formatExact(rating.value, 'W')}`, place: rating.place }] : [],
      fixes: () => {
        const limit = dutyLimitFor(
          build,
          option,
          (tried) => (tried.rotors[index]?.fullPower?.value ?? 0) <= rating.value,
        );
        const kept = `${line.motor.name} then stays within ${formatExact(rating.value, 'W')}`;
        return [
          ...(limit === undefined ? [] : [limitDuty(option, limit, kept)]),
          anotherPart(`take a motor rated for ${ratingAbove(fullPower.value, 'W')} or more, or a smaller propeller`),
        ];
      },
    };
  }
}
