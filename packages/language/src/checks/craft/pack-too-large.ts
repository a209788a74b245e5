/** The pack does not go into its bay. */
import { packWords } from '../../model/arrangements.ts';
import type { PackOption, Part } from '../../model/build.ts';
import type { Size } from '../../model/part-values.ts';
import type { BuildSubject, Check, Draft } from '../check.ts';
import { boundNumber, exactNumber, formatExact } from '../shared/finding-numbers.ts';

export const packTooLarge: Check = {
  id: 'pack-too-large',
  build: findTooLarge,
  page: {
    title: 'The pack does not go into its bay',
    cause:
      'A pack forced into a bay is dented, and a dented cell burns; one that sticks out is the first thing to hit.',
    criterion:
      'sorted by length, a side of the pack longer than that of the bay: error. Packs side by side: by volume only. Only with both sizes declared.',
    standing: 'Geometry.',
    remedy: 'A smaller pack, or another place for it. Never squeeze one in.',
    fixes: [],
    fails: `pack Bulky like Mast900_4S {
  size: 92 x 44 x 30 mm
}
build Stuffed like Healthy {
  without: Mast900_4S
  pack: Bulky
}`,
    passes: `build Roomy like Healthy {
  pack: Mast900_4S as Roomy
}`,
  },
};

function* findTooLarge({ build }: BuildSubject): Iterable<Draft> {
  const frame = build.airframe?.part;
  const bay = frame?.size('bay');
  if (!frame || !bay) return;
  for (const option of build.packs) {
    if (option.beside) {
      yield* besideTooLarge(option, option.beside, frame, bay);
      continue;
    }
    const size = option.part.size('size');
    if (!size) continue;
    const fits =
      option.count === 1 ? boxFits(size.sides, bay.sides) : volume(size.sides) * option.count <= volume(bay.sides);
    if (fits) continue;
    const measures = option.count === 1 ? `${option.name} measures` : `${packWords(option)} measure, each,`;
    yield {
      severity: 'error',
      message: `${measures} ${describe(size.sides)}, the bay of ${frame.name} ${describe(bay.sides)}: ${option.count === 1 ? 'it does' : 'together they do'} not go in. Never squeeze a pack.`,
      names: [option, frame],
      place: option.place,
      numbers: [exactNumber('pack', Math.max(...size.sides), 'mm'), boundNumber('bay', Math.max(...bay.sides), 'mm')],
      related: [
        { message: `pack ${describe(size.sides)}`, place: size.place },
        { message: `bay ${describe(bay.sides)}`, place: bay.place },
      ],
    };
  }
}

/** How they lie is not stated: all of them have to find room, and each has to go in. */
function* besideTooLarge(
  option: PackOption,
  beside: NonNullable<PackOption['beside']>,
  frame: Part<'airframe'>,
  bay: Size,
): Iterable<Draft> {
  const { name, place } = option;
  const sizes = beside.flatMap(({ part, count }) => {
    const size = part.size('size');
    return size ? [{ part, size, count }] : [];
  });
  const together = sizes.reduce((sum, { size, count }) => sum + count * volume(size.sides), 0);
  if (together <= volume(bay.sides) && sizes.every(({ size }) => boxFits(size.sides, bay.sides))) return;
  yield {
    severity: 'error',
    message: `The packs of ${name} do not go into the bay of ${frame.name}, ${describe(bay.sides)}. Never squeeze a pack.`,
    names: [option, frame],
    place,
    numbers: [
      exactNumber('pack', Math.max(...sizes.flatMap(({ size }) => size.sides)), 'mm'),
      boundNumber('bay', Math.max(...bay.sides), 'mm'),
    ],
    related: [
      ...sizes.map(({ part, size }) => ({ message: `${part.name} ${describe(size.sides)}`, place: size.place })),
      { message: `bay ${describe(bay.sides)}`, place: bay.place },
    ],
  };
}

const ordered = (sides: readonly number[]): number[] => [...sides].sort((a, b) => b - a);

function boxFits(inner: readonly number[], outer: readonly number[]): boolean {
  const room = ordered(outer);
  // A hair of tolerance: 18 mm written as 1.8 cm is the same size.
  return ordered(inner).every((side, index) => side <= (room[index] ?? Number.POSITIVE_INFINITY) + 1e-9);
}

const volume = (sides: readonly number[]): number => sides.reduce((product, side) => product * side, 1);

const describe = (sides: readonly number[]): string =>
  `${sides.map((side) => formatExact(side * 1000, '1')).join(' x ')} mm`;
