/** No operating point carries the weight. */
import { isImpossible } from '../physics/craft.ts';
import type { Check, Draft, OptionSubject } from './check.ts';
import { exactNumber, sayExact } from './say.ts';

const STANDARD_GRAVITY = 9.80665;

export const cannotHover: Check = {
  id: 'cannot-hover',
  option: findCannotHover,
  folds: ['low-thrust', 'high-hover-duty', 'pack-oversag', 'rail-undervoltage', 'pack-overcurrent'],
  page: {
    title: 'It cannot lift itself',
    cause: 'Even at its duty limit, or with all the pack can deliver, the rotors carry less than the craft weighs.',
    criterion: 'no operating point of pack, drive and propellers at hover thrust: error, with the shortfall.',
    standing: 'Statics.',
    remedy: 'Less mass, more or larger rotors, more cells, a higher duty limit, a pack with less resistance.',
    fails: `build Grounded like Healthy {
  item: 900 g "ballast"
}`,
    passes: `build Airborne like Healthy {
  item: 2 g "tape"
}`,
  },
};

function* findCannotHover({ option, assessment }: OptionSubject): Iterable<Draft> {
  for (const [point, when] of [
    [assessment.points.hover, 'on a fresh pack'],
    [assessment.points.hoverAtReserve, 'at the reserve'],
  ] as const) {
    if (!point || !isImpossible(point)) continue;
    const { impossible, shortfall } = point;
    const reason =
      impossible === 'thrust'
        ? `the rotors lift ${sayExact(shortfall / STANDARD_GRAVITY, 'g')} less than it weighs, at their duty limit of ${sayExact(option.dutyLimit.value, '%')}`
        : `the pack is ${sayExact(shortfall, 'W')} short of what hover needs`;
    yield {
      severity: 'error',
      message: `It cannot hover on ${option.name} ${when}: ${reason}. Take mass off, or give it more rotor, cells or duty.`,
      place: option.place,
      numbers: [
        impossible === 'thrust'
          ? exactNumber('shortfall', shortfall / STANDARD_GRAVITY, 'g')
          : exactNumber('shortfall', shortfall, 'W'),
      ],
    };
    return;
  }
}
