/** The propeller turns faster than its maker allows, or so fast that its tips near the speed of sound. */
import type { RotorResults } from '../../analysis/assessment.ts';
import { dutyLimitFor } from '../../analysis/decide/changed-craft.ts';
import { measurable } from '../../analysis/uncertainty/estimate.ts';
import { formatEstimate } from '../../analysis/uncertainty/print-estimate.ts';
import type { Check, Draft, OptionSubject } from '../check.ts';
import { gradeAbove } from '../grade.ts';
import { limitDuty } from '../shared/duty.ts';
import { boundNumber, formatExact, number, percent, relativeTo } from '../shared/finding-numbers.ts';
import { THRESHOLDS } from '../thresholds.ts';

const { tipMach, warning, error } = THRESHOLDS.motorOverspeed;

export const motorOverspeed: Check = {
  id: 'motor-overspeed',
  option: findOverspeed,
  page: {
    title: 'The propeller turns too fast',
    cause:
      'The force on a blade’s root grows with the square of the speed: above the speed its maker allows it may break off. Tips near the speed of sound are loud and give less thrust for their power than is computed here.',
    criterion: `full-duty speed over the propeller’s \`max_speed\`: above ${warning} warning, above ${error} error, where it is declared. Tip Mach number at full duty above ${tipMach}: hint.`,
    standing: 'Thresholds: ours.',
    remedy: 'Limit the duty, or take a motor with a lower kv or a propeller made for the speed.',
    fixes: ['computed'],
    fails: `propeller Soft like P4024x3 {
  max_speed: 17000 rpm
}
build Whirring like Healthy {
  motors: 4 x M1805 with Soft
}`,
    passes: `propeller Stiff like P4024x3 {
  max_speed: 60000 rpm
}
build Humming like Healthy {
  motors: 4 x M1805 with Stiff
}`,
  },
};

function* findOverspeed(subject: OptionSubject): Iterable<Draft> {
  let found = false;
  for (const [index, rotor] of subject.assessment.rotors.entries()) {
    const draft = pastTopSpeed(subject, rotor, index);
    if (!draft) continue;
    found = true;
    yield draft;
  }
  const { option, assessment } = subject;
  const mach = assessment.results.get('tip_mach')?.estimate;
  if (found || !mach || gradeAbove(measurable(mach), [{ past: tipMach, severity: 'hint' }]) !== 'hint') return;
  yield {
    severity: 'hint',
    message: `At full duty on ${option.name} the blade tips reach Mach ${formatEstimate(mach, '1')}: above ${tipMach} it gets loud, and thrust falls behind what is computed here.`,
    names: [option],
    place: option.dutyPlace ?? option.place,
    numbers: [number('tip_mach', mach, '1'), boundNumber('limit', tipMach, '1')],
  };
}

function pastTopSpeed({ build, option }: OptionSubject, rotor: RotorResults, index: number): Draft | undefined {
  const { line, fullSpeed } = rotor;
  const top = line.propeller.declared('max_speed');
  if (!top || !fullSpeed) return undefined;
  const severity = gradeAbove(relativeTo(fullSpeed, top.value), [
    { past: warning, severity: 'warning' },
    { past: error, severity: 'error' },
  ]);
  if (!severity) return undefined;
  const limit = formatExact(top.value, 'rpm');
  return {
    severity,
    question: `whether ${line.propeller.name} stays below ${limit} (${formatEstimate(fullSpeed, 'rpm')})`,
    message: `At full duty on ${option.name} ${line.propeller.name} turns ${formatEstimate(fullSpeed, 'rpm')}, ${percent(fullSpeed.value / top.value)} of the ${limit} its maker allows: a blade may break off.`,
    names: severity === 'undecided' ? [line.propeller] : [option, line.propeller],
    place: option.dutyPlace ?? option.place,
    numbers: [number('speed', fullSpeed, 'rpm'), boundNumber('limit', top.value, 'rpm')],
    related: top.place ? [{ message: `${limit} allowed`, place: top.place }] : [],
    fixes: () => {
      const duty = dutyLimitFor(build, option, (tried) => (tried.rotors[index]?.fullSpeed?.value ?? 0) <= top.value);
      return duty === undefined ? [] : [limitDuty(option, duty, `${line.propeller.name} then stays below ${limit}`)];
    },
  };
}
