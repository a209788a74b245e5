/** A low PWM frequency wastes power in a motor with little inductance. */
import { drivingAmong } from '../../analysis/setup/craft-setup.ts';
import { measurable } from '../../analysis/uncertainty/estimate.ts';
import { formatEstimate } from '../../analysis/uncertainty/print-estimate.ts';
import type { Check, Draft, OptionSubject } from '../check.ts';
import { gradeAbove } from '../grade.ts';
import { boundNumber, formatExact, number, percent } from '../shared/finding-numbers.ts';
import { THRESHOLDS } from '../thresholds.ts';

const { share } = THRESHOLDS.pwmLow;

export const pwmLow: Check = {
  id: 'pwm-low',
  atMost: 'hint',
  option: findSlow,
  page: {
    title: 'A low PWM frequency costs power',
    cause:
      'Between two pulses the current in a winding with little inductance falls and must be built up again. The swing does no work, but heats copper; it shrinks with the square of the PWM frequency.',
    criterion: `ripple loss in hover above ${percent(share)} of the power into the channel: hint. Only where the board declares its \`pwm_frequency\`.`,
    standing: 'Current ripple of an inductor under PWM: power-electronics texts. Threshold: ours.',
    remedy: 'Set a higher PWM frequency if the board offers one; it heats the board a little more.',
    fixes: [],
    fails: `esc Slow like Board28 {
  pwm_frequency: 16 kHz
}
motor Fast like M1805 {
  inductance: 4 uH measured
}
build Rough like Healthy {
  esc: Slow
  motors: 4 x Fast with P4024x3
}`,
    passes: `esc Quick like Board28 {
  pwm_frequency: 96 kHz
}
motor Fast like M1805 {
  inductance: 4 uH measured
}
build Smooth like Healthy {
  esc: Quick
  motors: 4 x Fast with P4024x3
}`,
  },
};

function* findSlow({ build, option, assessment }: OptionSubject): Iterable<Draft> {
  const [board] = drivingAmong(build.escs);
  const pwm = board?.part.declared('pwm_frequency');
  const worst = assessment.rotors
    .flatMap(({ line, rippleShare }) => (rippleShare ? [{ line, rippleShare }] : []))
    .sort((a, b) => b.rippleShare.value - a.rippleShare.value)[0];
  if (!board || !pwm || !worst) return;
  const { line, rippleShare } = worst;
  if (gradeAbove(measurable(rippleShare), [{ past: share, severity: 'hint' }]) !== 'hint') return;
  yield {
    severity: 'hint',
    message: `At ${formatExact(pwm.value, 'kHz')} the current in ${line.motor.name} swings so far that ${formatEstimate(rippleShare, '%')} of the hover power on ${option.name} is lost to it. Twice the frequency takes three quarters of that away.`,
    names: [line.motor, option],
    place: board.place,
    numbers: [number('ripple_share', rippleShare, '%'), boundNumber('limit', share, '%')],
    related: pwm.place ? [{ message: formatExact(pwm.value, 'kHz'), place: pwm.place }] : [],
  };
}
