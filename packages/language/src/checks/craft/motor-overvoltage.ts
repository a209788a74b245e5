/** More cells than the motor is wound for, and no duty limit that makes up for it. */
import { assess } from '../../analysis/assess.ts';
import { dutyForRatedCells, withDutyLimit } from '../../analysis/decide/changed-craft.ts';
import { atLeast } from '../../vocabulary/severities.ts';
import type { Check, Draft, OptionSubject } from '../check.ts';
import { gradeAbove, milder } from '../grade.ts';
import { cellRange, fullPackVoltage, ratedCells } from '../shared/cells.ts';
import { anotherPart, limitDuty, wholePercent } from '../shared/duty.ts';
import { exactNumber, formatExact, percent, relativeTo } from '../shared/finding-numbers.ts';
import { burstRating } from '../shared/ratings.ts';
import { THRESHOLDS } from '../thresholds.ts';

const { information, warning, error } = THRESHOLDS.motorOvervoltage;

export const motorOvervoltage: Check = {
  id: 'motor-overvoltage',
  option: findOvervoltage,
  folds: [
    'motor-overcurrent',
    'motor-overpower',
    'motor-overspeed',
    'esc-overcurrent',
    'pack-overcurrent',
    'pack-oversag',
  ],
  page: {
    title: 'The motor sees more cells than it is wound for',
    cause:
      'A motor’s winding is chosen for a cell count. With more cells and the same duty it turns faster; its current grows with the square of the speed and the heat in its copper with the fourth power, so that winding, magnets and bearings wear out within flights. A duty limit brings the average voltage back to what it was made for.',
    criterion: `ratio = duty limit × full pack voltage / (rated cells × ${THRESHOLDS.fullCell.lipo.toFixed(2)} V). Up to ${information} nothing, to ${warning} information, to ${error} warning, above it an error; one step milder when full-duty current is known to stay within the motor’s burst rating.`,
    standing:
      'Thresholds: ours. Flying a pack with more cells than the winding is made for under a duty limit in proportion: common practice.',
    remedy: 'Limit the duty on this pack, or take a motor wound for it.',
    fixes: ['computed', 'another-part'],
    fails: `build Overvolted like Healthy {
  without: Mast900_4S
  pack: Mast800_5S
}`,
    passes: `build Limited like Healthy {
  without: Mast900_4S
  pack: Mast800_5S duty 77 %
}`,
  },
};

function* findOvervoltage({ build, option, assessment }: OptionSubject): Iterable<Draft> {
  const packVoltage = fullPackVoltage(option);
  if (packVoltage === undefined) return;
  const wound = assessment.rotors.flatMap((rotor) => {
    const rated = ratedCells(rotor.line.motor, 'rated');
    return rated ? [{ rotor, rated }] : [];
  });
  // The motor wound for the fewest cells first: the limit that cures it cures the others too.
  for (const { rotor, rated } of wound.toSorted((a, b) => a.rated.high - b.rated.high)) {
    const { motor } = rotor.line;
    const ratedVoltage = rated.high * THRESHOLDS.fullCell.lipo;
    const ratio = (option.dutyLimit.value * packVoltage) / ratedVoltage;
    const reached = gradeAbove({ value: ratio, plusMinus: 0 }, [
      { past: information, severity: 'information' },
      { past: warning, severity: 'warning' },
      { past: error, severity: 'error' },
    ]);
    if (reached === undefined || reached === 'undecided') continue;

    const short = burstRating(motor);
    const coolEnough =
      short !== undefined &&
      rotor.fullCurrent !== undefined &&
      gradeAbove(relativeTo(rotor.fullCurrent, short.value), [{ past: 1, severity: 'error' }]) === undefined;
    const severity = coolEnough ? milder(reached) : reached;
    const equalDuty = wholePercent(dutyForRatedCells(ratedVoltage, packVoltage));
    const seen = () =>
      `${motor.name} is wound for ${cellRange(rated)}; on ${option.name} at ${percent(option.dutyLimit.value)} duty it sees ${formatExact(option.dutyLimit.value * packVoltage, 'V')}, ${ratio.toFixed(2)} times what it was made for`;
    const advice = () =>
      atLeast(severity, 'warning')
        ? ` It overheats and wears out early. At ${percent(equalDuty)} duty it sees what it would on ${rated.high}S.`
        : ' Builders do fly this; it shortens the life of the motor.';
    yield {
      severity,
      get message() {
        return `${seen()}.${advice()}`;
      },
      names: [motor, option],
      place: option.dutyPlace ?? option.place,
      numbers: [exactNumber('ratio', ratio, '1'), exactNumber('duty_limit', option.dutyLimit.value, '%')],
      related: [{ message: `wound for ${cellRange(rated)}`, place: rated.place }],
      cured: () => assess(build, withDutyLimit(option, equalDuty)),
      fixes: () => [
        limitDuty(option, equalDuty, `${motor.name} then sees what it would on ${rated.high}S`),
        anotherPart(`take a motor wound for ${Math.ceil(packVoltage / THRESHOLDS.fullCell.lipo - 0.1)}S`),
      ],
    };
    return;
  }
}
