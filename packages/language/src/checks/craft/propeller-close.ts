/** Two propeller discs, or a blade and its guard, come too close. */

import type { Build, Figure, Part, RotorLine } from '../../model/build.ts';
import { plusMinusOf } from '../../units/interval.ts';
import type { BuildSubject, Check, Draft } from '../check.ts';
import { boundNumber, exactNumber, formatExact } from '../shared/finding-numbers.ts';
import { THRESHOLDS } from '../thresholds.ts';

const { shareOfDiameter, gap, guardGap } = THRESHOLDS.propellerClose;

export const propellerClose: Check = {
  id: 'propeller-close',
  build: findClose,
  page: {
    title: 'Propellers come too close',
    cause:
      'Arms bend in a hard turn or a landing, blades stretch at speed. Discs that nearly touch then meet; a blade that nearly fills its guard grazes it.',
    criterion: `without guards: gap between neighbouring discs, on a frame whose arms are evenly spaced (of propellers of two sizes, a wide one next to a narrow one where they can take turns), under ${shareOfDiameter * 100} % of the diameter or ${gap * 1e3} mm: warning; discs that overlap by more than the ± of the declared figures: error. With guards: less than ${guardGap * 1e3} mm between tip and guard: hint; neighbouring guards that overlap by more than ${shareOfDiameter * 100} % of their diameter: warning. Only with \`wheelbase\`, \`rotors\` and \`diameter\`, or \`guard_diameter\` and \`diameter\`, declared.`,
    standing: 'Common practice.',
    remedy: 'A smaller propeller or a wider frame.',
    fixes: [],
    fails: `airframe Bare {
  rotors: 4
  wheelbase: 146 mm
  bay: 84 x 40 x 36 mm
  mass: 64 g
}
build Crowded like Healthy {
  airframe: Bare
}`,
    passes: `airframe Bare {
  rotors: 4
  wheelbase: 196 mm
  bay: 84 x 40 x 36 mm
  mass: 64 g
}
build Spaced like Healthy {
  airframe: Bare
}`,
  },
};

function* findClose({ build }: BuildSubject): Iterable<Draft> {
  const guard = build.airframe?.part.declared('guard_diameter');
  if (guard) {
    for (const line of build.rotors) yield* closeToGuard(line, guard);
    yield* overlappingGuards(build, guard);
    return;
  }
  const spacing = spacingOf(build);
  const neighbours = spacing && widestNeighbours(build.rotors, spacing.arms);
  if (!neighbours) return;

  const [{ line, diameter }, { diameter: other }] = neighbours;
  const { frame, wheelbase, apart } = spacing;
  const between = apart - (diameter.value + other.value) / 2;
  const needed = Math.max(shareOfDiameter * diameter.value, gap);
  if (between >= needed) return;
  // No layout of as many arms on that wheelbase keeps all neighbours farther apart than even spacing does.
  const overlaps = between < -plusMinusOf(gapUncertainty(neighbours, spacing));
  const words =
    between > 0 ? `leave ${formatExact(between, 'mm')} between them` : `overlap by ${formatExact(-between, 'mm')}`;
  const discs =
    other.value === diameter.value
      ? formatExact(diameter.value, 'mm')
      : `${formatExact(diameter.value, 'mm')} and ${formatExact(other.value, 'mm')}`;
  const consequence = overlaps
    ? 'The blades hit each other.'
    : `Leave ${formatExact(needed, 'mm')}: arms bend and blades stretch.`;
  yield {
    severity: overlaps ? 'error' : 'warning',
    message: `On ${frame.name} neighbouring motors are ${formatExact(apart, 'mm')} apart; discs of ${discs} ${words}. ${consequence}`,
    names: [frame],
    place: line.place,
    numbers: [exactNumber('gap', between, 'mm'), boundNumber('needed', needed, 'mm')],
    related: placesOf([
      ['wheelbase', wheelbase],
      ['diameter', diameter],
      ...(other === diameter ? [] : [['diameter', other] as const]),
    ]),
  };
}

/** One standard deviation, m. */
function gapUncertainty(
  [{ diameter }, { diameter: other }]: readonly [Disc, Disc],
  { wheelbase, arms }: Spacing,
): number {
  const ofDiscs =
    diameter.id === other.id
      ? diameter.standardUncertainty
      : Math.hypot(diameter.standardUncertainty, other.standardUncertainty) / 2;
  return Math.hypot(Math.sin(Math.PI / arms) * wheelbase.standardUncertainty, ofDiscs);
}

interface Spacing {
  readonly frame: Part<'airframe'>;
  readonly wheelbase: Figure;
  readonly arms: number;
  /** Between the shafts of neighbours, m. */
  readonly apart: number;
}

/** Of a frame whose arms are evenly spaced. */
function spacingOf({ airframe, rotors: lines }: Build): Spacing | undefined {
  const frame = airframe?.part;
  const wheelbase = frame?.declared('wheelbase');
  const rotors = frame?.declared('rotors');
  // That motors and arms are not equally many has its own finding.
  const fitted = lines.reduce((sum, { count }) => sum + count.value, 0);
  if (!frame || !wheelbase || rotors?.value !== fitted) return undefined;
  const coaxial = lines.some(({ position }) => position !== 'single');
  const arms = coaxial ? rotors.value / 2 : rotors.value;
  if (!Number.isInteger(arms) || arms < 3) return undefined;
  return { frame, wheelbase, arms, apart: wheelbase.value * Math.sin(Math.PI / arms) };
}

/** Neighbours may share a wall, but not the space inside. */
function* overlappingGuards(build: Build, guard: Figure): Iterable<Draft> {
  const { frame, wheelbase, apart } = spacingOf(build) ?? {};
  if (!frame || !wheelbase || !apart) return;
  const overlap = guard.value - apart;
  if (overlap <= shareOfDiameter * guard.value) return;
  yield {
    severity: 'warning',
    message: `On ${frame.name} neighbouring motors are ${formatExact(apart, 'mm')} apart; guards of ${formatExact(guard.value, 'mm')} overlap by ${formatExact(overlap, 'mm')}. One of the two figures is wrong.`,
    names: [frame],
    place: build.airframe?.place ?? build.place,
    numbers: [exactNumber('overlap', overlap, 'mm')],
    related: placesOf([
      ['wheelbase', wheelbase],
      ['guard', guard],
    ]),
  };
}

interface Disc {
  readonly line: RotorLine;
  readonly diameter: Figure;
}

/**
 * Which propeller is on which arm is not stated: the widest propeller is taken next to its like only where there are too many of them to
 * take turns with narrower ones.
 */
function widestNeighbours(lines: readonly RotorLine[], arms: number): readonly [Disc, Disc] | undefined {
  const discs = lines
    .flatMap((line): Disc[] => {
      const diameter = line.propeller.declared('diameter');
      return diameter ? [{ line, diameter }] : [];
    })
    .sort((a, b) => b.diameter.value - a.diameter.value);
  const [widest, next] = discs;
  if (!widest) return undefined;
  const takeTurns = next && widest.line.position === 'single' && 2 * widest.line.count.value <= arms;
  return [widest, takeTurns ? next : widest];
}

function* closeToGuard({ propeller, place }: RotorLine, guard: Figure): Iterable<Draft> {
  const diameter = propeller.declared('diameter');
  if (!diameter) return;
  const between = (guard.value - diameter.value) / 2;
  // Without any gap it is too large, which is another finding.
  if (between <= 0 || between >= guardGap - 1e-6) return;
  yield {
    severity: 'hint',
    message: `${propeller.name} leaves ${formatExact(between, 'mm')} to its guard: a blade that stretches or a guard that is not round grazes. ${formatExact(guardGap, 'mm')} are usual.`,
    names: [propeller],
    place,
    numbers: [exactNumber('gap', between, 'mm'), boundNumber('needed', guardGap, 'mm')],
    related: placesOf([
      ['guard', guard],
      ['diameter', diameter],
    ]),
  };
}

const placesOf = (figures: readonly (readonly [string, Figure])[]) =>
  figures.flatMap(([words, { value, place }]) =>
    place ? [{ message: `${words} ${formatExact(value, 'mm')}`, place }] : [],
  );
