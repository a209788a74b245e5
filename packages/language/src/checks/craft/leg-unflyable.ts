/** A leg of a flight is faster than the craft can fly, climb or go down, or slower than the wind. */
import type { FlightResults } from '../../analysis/assessment.ts';
import { measurable } from '../../analysis/uncertainty/estimate.ts';
import { formatEstimate } from '../../analysis/uncertainty/print-estimate.ts';
import type { Unflyable } from '../../physics/leg-limits.ts';
import type { Check, Draft, OptionSubject } from '../check.ts';
import { gradeBelow } from '../grade.ts';
import { formatExact, number } from '../shared/finding-numbers.ts';

export const legUnflyable: Check = {
  id: 'leg-unflyable',
  option: findUnflyable,
  page: {
    title: 'A leg of a flight is faster than the craft can fly',
    cause:
      'A leg states a speed, a climb or a wind that tilt, thrust or a full pack do not allow; or a descent in which the rotors meet their own wake, where no power is computed and the craft may fall; or a way home against a wind as fast as it flies. Nothing of that flight is computed.',
    criterion:
      'the speed that the leg states is above the most that can be flown: with its whole ± error, likely warning. A descent above half the induced velocity of hover, or a climb above it: warning.',
    standing:
      'Tilt and thrust as in `wind_held`; vortex ring state from about half the induced velocity of hover on: J. G. Leishman, Principles of Helicopter Aerodynamics, 2006, sec. 2.13 (unverified).',
    remedy: 'A slower leg, more tilt (`tilt:`), a calmer day, or a craft with more thrust and less drag.',
    fixes: [],
    fails: `flight Dash {
  leg: 3 km at 55 m/s
}
build Hasty like Healthy {
  flight: Dash
}`,
    passes: `flight Stroll {
  leg: 100 m at 5 m/s
}
build Gentle like Healthy {
  flight: Stroll
}`,
  },
};

function* findUnflyable({ option, assessment }: OptionSubject): Iterable<Draft> {
  for (const one of assessment.flights) {
    const { flown, limit } = one;
    const unflyable = flown?.unflyable;
    const leg = unflyable && one.flight.legs[unflyable.leg];
    if (!unflyable || !leg || !limit) continue;
    const grade = gradeBelow(measurable(limit), [{ past: statedSpeed(one, unflyable), severity: 'error' }]);
    const isBeyondModel = unflyable.because === 'descent' || unflyable.because === 'climb';
    const severity = isBeyondModel || grade !== 'error' ? 'warning' : 'error';
    yield {
      severity: unflyable.because === 'wind' ? 'error' : severity,
      message: `${one.flight.name} cannot be flown on ${option.name}: ${leg.text}, leg ${unflyable.leg + 1}, ${WORDS[unflyable.because](formatEstimate(limit, 'm/s'))}. Nothing of it is computed.`,
      names: [option],
      place: one.flight.place,
      numbers: [number('fastest', limit, 'm/s')],
      related: [{ message: `the leg: ${formatExact(statedSpeed(one, unflyable), 'm/s')}`, place: leg.place }],
    };
  }
}

const WORDS: Readonly<Record<Unflyable['because'], (limit: string) => string>> = {
  speed: (limit) => `is faster than tilt, thrust and a full pack allow: ${limit} through the air at most`,
  power: (limit) => `climbs faster than a full pack allows: ${limit} at most`,
  climb: (limit) => `climbs faster than its rotors push the air in hover: power is computed up to ${limit}`,
  descent: (limit) => `goes down into the wake of its own rotors: power is computed up to ${limit}`,
  wind: (limit) => `meets a wind of ${limit} on the way home and makes no way against it`,
};

/** Of hovering the wind. */
function statedSpeed({ flight }: FlightResults, { leg, because }: Unflyable): number {
  const one = flight.legs[leg];
  if (!one) return 0;
  const isSideways = because === 'speed' && one.manner !== 'cruise' && one.manner !== 'home';
  return isSideways ? Math.abs(one.wind) : (one.speed ?? 0);
}
