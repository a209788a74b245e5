/** A motor that gets hotter over the flight than its winding is rated for. */

import type { RotorResults } from '../../analysis/assessment.ts';
import { measurable } from '../../analysis/uncertainty/estimate.ts';
import { formatEstimate } from '../../analysis/uncertainty/print-estimate.ts';
import { ICE_POINT } from '../../physics/air.ts';
import type { Check, Draft, DraftWithout, OptionSubject } from '../check.ts';
import { gradeAbove } from '../grade.ts';
import { boundNumber, formatExact, number } from '../shared/finding-numbers.ts';
import { THRESHOLDS } from '../thresholds.ts';

const { winding, errorPast } = THRESHOLDS.motorOverheat;

export const motorOverheat: Check = {
  id: 'motor-overheat',
  option: findOverheat,
  folds: ['requirement-unsure'],
  page: {
    title: 'The motor gets too hot over the flight',
    cause:
      'Warm copper has more resistance, and so warms further. Above the temperature that enamel and magnets withstand the motor weakens for good, and where heat grows faster than it leaves, the winding runs away.',
    criterion: `settled winding temperature of the flight as flown above \`max_temperature\` (absent: ${winding} °C, a bell of about 80 °C): warning; more than ${errorPast} K above it, or running away: error. Only where the motor declares its \`thermal_resistance\`.`,
    standing: 'Bell temperature: common practice. Grades: ours.',
    remedy: 'Fly it lighter, limit the duty, or take a motor with more copper. Feel the bells after the first minute.',
    fixes: [],
    fails: `motor Wrapped like M1805 {
  thermal_resistance: 55 K/W measured
}
build Hot like Healthy {
  motors: 4 x Wrapped with P4024x3
}`,
    passes: `motor Airy like M1805 {
  thermal_resistance: 8 K/W measured
}
build Cool like Healthy {
  motors: 4 x Airy with P4024x3
}`,
  },
};

function* findOverheat({ option, assessment }: OptionSubject): Iterable<Draft> {
  for (const rotor of assessment.rotors) {
    const path = rotor.line.motor.declared('thermal_resistance');
    if (!path || !assessment.results.has('hover_current')) continue;
    const draft = rotor.windingTemperature ? pastLimit(rotor) : runningAway(rotor);
    if (!draft) continue;
    yield {
      ...draft,
      foldKey: 'motor_temperature',
      place: option.dutyPlace ?? option.place,
      related: path.place ? [{ message: `sheds heat at ${formatExact(path.value, 'K/W')}`, place: path.place }] : [],
    };
  }
}

type Heat = DraftWithout<'place' | 'related'>;

function pastLimit({ line: { motor }, windingTemperature }: RotorResults): Heat | undefined {
  const limit = motor.declared('max_temperature')?.value ?? winding + ICE_POINT;
  const severity =
    windingTemperature &&
    gradeAbove(measurable(windingTemperature), [
      { past: limit, severity: 'warning' },
      { past: limit + errorPast, severity: 'error' },
    ]);
  if (!windingTemperature || !severity) return undefined;
  return {
    severity,
    question: `whether ${motor.name} stays below ${formatExact(limit, 'degC')} (${formatEstimate(windingTemperature, 'degC')})`,
    message: `Over the flight as flown the winding of ${motor.name} settles at ${formatEstimate(windingTemperature, 'degC')}; it is rated for ${formatExact(limit, 'degC')}. Fly it lighter, or land early and feel the bells.`,
    names: [motor],
    numbers: [number('temperature', windingTemperature, 'degC'), boundNumber('limit', limit, 'degC')],
  };
}

const runningAway = ({ line: { motor } }: RotorResults): Heat => ({
  severity: 'error',
  message: `Over the flight as flown ${motor.name} makes heat faster than it sheds it: the hotter the copper, the more it resists. It has no temperature to settle at and burns.`,
  names: [motor],
  numbers: [],
});
