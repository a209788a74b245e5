/** Thrust counts in multiples of hover: `at 1.4 x hover`, `burst: 2.5 x hover`. */
import type { Figure, Named } from '../../grammar/generated/ast.ts';
import type { Problem } from '../../syntax/problem.ts';
import { nameText, placeOf } from '../../syntax/source.ts';
import { MISSING_VALUE } from './missing-value.ts';
import { problem, replace } from './problem-text.ts';
import { UNKNOWN_NAME } from './unknown-name.ts';
import { isWritten } from './written.ts';

export function multipleOfHover(value: Figure): Problem | undefined {
  const [multiplied] = value.of;
  if (value.unit === undefined && value.times.length === 1 && multiplied) return notHover(multiplied);
  if (!isWritten(value)) return undefined;
  const place = placeOf(value);
  const whole = `${value.number} x hover`;
  const fix = value.unit === undefined && value.times.length === 0 ? replace(place, whole) : undefined;
  return problem(MISSING_VALUE, `a phase of the flight is a multiple of hover thrust: ${whole}`, place, [fix]);
}

/** Thrust counts in multiples of hover, of nothing else. */
export function notHover(named: Named): Problem | undefined {
  if (nameText(named) === 'hover') return undefined;
  const place = placeOf(named);
  return problem(UNKNOWN_NAME, 'expected hover, or a multiple of it: 1.4 x hover', place, [replace(place, 'hover')]);
}
