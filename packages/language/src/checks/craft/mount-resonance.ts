/** A mount that rings at the speed of the rotors. */
import { softestMount } from '../../analysis/setup/optional.ts';
import { measurable } from '../../analysis/uncertainty/estimate.ts';
import { formatEstimate } from '../../analysis/uncertainty/print-estimate.ts';
import { oncePerRevolution, worstTransmissibility } from '../../physics/vibration.ts';
import type { Check, Draft, OptionSubject } from '../check.ts';
import { gradeAbove } from '../grade.ts';
import { boundNumber, exactNumber, formatExact, number, percent } from '../shared/finding-numbers.ts';
import { THRESHOLDS } from '../thresholds.ts';

const { transmissibility, descent } = THRESHOLDS.mountResonance;

export const mountResonance: Check = {
  id: 'mount-resonance',
  atMost: 'warning',
  option: findResonance,
  page: {
    title: 'The mount rings at the speed of the rotors',
    cause:
      'A soft mount keeps out what is faster than 1.4 times its own frequency; it amplifies what is near it. A propeller that is a trace out of balance shakes once per revolution.',
    criterion: `transmissibility of the softest mount at hover speed, once per revolution, at or above ${transmissibility}: warning. Only elsewhere between a descent (${percent(descent)} of hover speed) and full duty: information. Only where its \`frequency\`, \`sag\` or \`stiffness\` is declared. Blade passing alone never counts.`,
    standing: 'One degree of freedom: Den Hartog, Mechanical Vibrations, ch. 2. Severity: ours.',
    remedy:
      'A softer mount, more mass on it, or a stiff one whose frequency lies above full duty. Balance the propellers.',
    fixes: [],
    fails: `mount Stiff {
  frequency: 210 Hz measured
  mass: 1 g
}
build Shaken like Healthy {
  without: LinkCam
  load: LinkCam from Board28.camera on Stiff
}`,
    passes: `mount Soft {
  frequency: 30 Hz measured
  mass: 1 g
}
build Steady like Healthy {
  without: LinkCam
  load: LinkCam from Board28.camera on Soft
}`,
  },
};

function* findResonance({ build, option, assessment }: OptionSubject): Iterable<Draft> {
  const mounted = softestMount(build.loads);
  const inHover = assessment.results.get('mount_transmissibility')?.estimate;
  const hoverSpeed = assessment.results.get('hover_speed')?.estimate;
  const frequency = assessment.results.get('mount_frequency')?.estimate;
  if (!mounted || !inHover || !hoverSpeed || !frequency) return;
  const { load, mount, damping } = mounted;
  const own = mount.placeOf('frequency') ?? mount.placeOf('sag') ?? mount.placeOf('stiffness');
  const common = {
    names: [option, mount],
    place: load.place,
    related: [
      ...(own ? [{ message: `${mount.name} rings at ${formatEstimate(frequency, 'Hz')}`, place: own }] : []),
      { message: `on ${option.name}`, place: option.place },
    ],
  };
  const revolution = formatExact(oncePerRevolution(hoverSpeed.value), 'Hz');
  const severity = gradeAbove(measurable(inHover), [{ past: transmissibility, severity: 'warning' }]);
  if (severity === 'warning') {
    yield {
      ...common,
      severity,
      message: `Hovering on ${option.name} the rotors turn at ${revolution}, and ${mount.name} rings at ${formatEstimate(frequency, 'Hz')}: it passes on ${formatEstimate(inHover, '1')} times what shakes it. Take a mount that rings below ${formatExact(oncePerRevolution(hoverSpeed.value) / Math.SQRT2, 'Hz')}.`,
      numbers: [number('transmissibility', inHover, '1'), boundNumber('limit', transmissibility, '1')],
    };
    return;
  }
  const fullSpeed = assessment.results.get('full_speed')?.estimate.value ?? hoverSpeed.value;
  const slowest = oncePerRevolution(descent * hoverSpeed.value);
  const worst = worstTransmissibility(slowest, oncePerRevolution(fullSpeed), frequency.value, damping.value);
  if (worst < transmissibility) return;
  yield {
    ...common,
    severity: 'information',
    message: `Between a descent and full duty on ${option.name} ${mount.name} passes on up to ${formatExact(worst, '1')} times what shakes it (it rings at ${formatEstimate(frequency, 'Hz')}, the rotors hover at ${revolution}). Pictures may swim there.`,
    numbers: [exactNumber('transmissibility', worst, '1'), boundNumber('limit', transmissibility, '1')],
  };
}
