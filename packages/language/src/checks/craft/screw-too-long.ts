/** The motor's screws reach its winding. */
import type { BuildSubject, Check, Draft } from '../check.ts';
import { boundNumber, exactNumber, formatExact } from '../shared/finding-numbers.ts';

export const screwTooLong: Check = {
  id: 'screw-too-long',
  build: findTooLong,
  page: {
    title: 'The motor’s screws reach its winding',
    cause:
      'A screw that is a turn too long touches the enamel. It flies for an hour, then shorts through the frame and takes the board with it.',
    criterion:
      '`screw_length` less `arm_thickness` of the frame above the motor’s `screw_depth`: error. Only with all three declared.',
    standing: 'Geometry.',
    remedy: 'Shorter screws, or a washer under each head.',
    fixes: [],
    fails: `motor Shallow like M1805 {
  screw_depth: 2.5 mm
}
airframe Plate like Guard196 {
  arm_thickness: 2 mm
  screw_length: 6 mm
}
build Pierced like Healthy {
  airframe: Plate
  motors: 4 x Shallow with P4024x3
}`,
    passes: `motor Shallow like M1805 {
  screw_depth: 2.5 mm
}
airframe Plate like Guard196 {
  arm_thickness: 2 mm
  screw_length: 4 mm
}
build Whole like Healthy {
  airframe: Plate
  motors: 4 x Shallow with P4024x3
}`,
  },
};

/** A thousandth of a millimetre is rounding. */
const ROUNDING = 1e-6;

function* findTooLong({ build }: BuildSubject): Iterable<Draft> {
  const frame = build.airframe?.part;
  const length = frame?.declared('screw_length');
  const arm = frame?.declared('arm_thickness');
  if (!frame || !length || !arm) return;
  const reach = length.value - arm.value;
  for (const { motor, place } of build.rotors) {
    const depth = motor.declared('screw_depth');
    if (!depth || reach <= depth.value + ROUNDING) continue;
    yield {
      severity: 'error',
      message: `Screws of ${formatExact(length.value, 'mm')} through ${formatExact(arm.value, 'mm')} of ${frame.name} reach ${formatExact(reach, 'mm')} into ${motor.name}, which allows ${formatExact(depth.value, 'mm')}: they touch the winding. Take screws of ${formatExact(depth.value + arm.value, 'mm')} at most.`,
      names: [frame, motor],
      place,
      numbers: [exactNumber('reach', reach, 'mm'), boundNumber('allowed', depth.value, 'mm')],
      related: [
        ...(length.place ? [{ message: `screws ${formatExact(length.value, 'mm')}`, place: length.place }] : []),
        ...(depth.place ? [{ message: `${formatExact(depth.value, 'mm')} allowed`, place: depth.place }] : []),
      ],
    };
  }
}
