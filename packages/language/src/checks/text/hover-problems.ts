/** Thrust counts in multiples of hover: `at 1.4 x hover`, `burst: 2.5 x hover`. */
import type { FigureNode, NamedNode } from '../../grammar/generated/ast.ts';
import type { Problem } from '../../syntax/problem.ts';
import { nameText, placeOf } from '../../syntax/source.ts';
import { problem, replace } from './problem-words.ts';
import { isWritten } from './written.ts';

export function multipleOfHover(value: FigureNode): Problem | undefined {
  const [multiplied] = value.of;
  if (value.unit === undefined && value.times.length === 1 && multiplied) return notHover(multiplied);
  if (!isWritten(value)) return undefined;
  const place = placeOf(value);
  const whole = `${value.number} x hover`;
  const fix = value.unit === undefined && value.times.length === 0 ? replace(place, whole) : undefined;
  return problem('missing-value', `a phase of the flight is a multiple of hover thrust: ${whole}`, place, [fix]);
}

/** Thrust counts in multiples of hover, of nothing else. */
export function notHover(named: NamedNode): Problem | undefined {
  if (nameText(named) === 'hover') return undefined;
  const place = placeOf(named);
  return problem('unknown-name', 'expected hover, or a multiple of it: 1.4 x hover', place, [replace(place, 'hover')]);
}
