/** A line is read, or it has a finding: never neither, and nothing is computed from one that is in error. */
import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { readDocument } from '../../packages/language/src/checks/text/read-document.ts';
import { severityOfProblem } from '../../packages/language/src/checks/text/text-problems.ts';
import type { Part } from '../../packages/language/src/model/build.ts';
import { isFigureProperty, type ShapedProperty, schemaOf } from '../../packages/language/src/vocabulary/properties.ts';
import {
  type BlockKind,
  FIGURE_SHAPES,
  type Property,
  type Shape,
} from '../../packages/language/src/vocabulary/schema.ts';
import { cases } from '../long.ts';
import { Workspace } from '../references/memory-workspace.ts';

const KINDS = ['airframe', 'motor', 'propeller', 'esc', 'regulator', 'pack', 'load', 'item', 'lead', 'plug'] as const;

/** What is read of a number; undefined of what is no number. */
function readBy(part: Part, property: ShapedProperty): unknown {
  switch (property.shape) {
    case 'range':
      return part.range(property.name);
    case 'size':
      return part.size(property.name);
    case 'pattern':
      return part.bolts(property.name);
    case 'cells':
      return part.cells(property.name);
    default:
      return isFigureProperty(property) ? part.declared(property.name) : undefined;
  }
}

const NUMBERS: ReadonlySet<Shape> = new Set<Shape>([...FIGURE_SHAPES, 'range', 'size', 'pattern', 'cells']);

interface Line {
  readonly kind: BlockKind;
  readonly property: ShapedProperty;
  readonly value: string;
}

const PROPERTIES = KINDS.flatMap((kind) =>
  Object.values(schemaOf(kind).properties).flatMap((property) =>
    NUMBERS.has(property.shape) ? [{ kind, property }] : [],
  ),
);

const seldom = <T>(usual: fc.Arbitrary<T>, odd: fc.Arbitrary<T>) =>
  fc.oneof({ arbitrary: usual, weight: 5 }, { arbitrary: odd, weight: 1 });

const number = seldom(
  fc.constantFrom('1', '2', '4', '12', '20', '73', '900'),
  fc.constantFrom('0', '2.5', '0.4', '1e9', '5000'),
);

/** Nothing behind it, mostly its own unit. */
const unitOf = ({ unit = '', otherUnits = [] }: Property) =>
  seldom(
    fc.constantFrom(unit, unit, ...otherUnits),
    fc.constantFrom('', '%', 'S', 'P', 'A', 'mm', 'EUR', 'degC', 'mAhh'),
  );

const BEHIND: Partial<Record<Shape, readonly string[]>> = {
  size: ['', ' x 12 mm', ' x 12 x 4 mm', ' x 12', ' x Odd', ' x 12 mm "or so"', ' x 12 mm .. 30 mm'],
  pattern: [
    ' x M3 on 20 x 20 mm',
    ' x M3 on 20 mm',
    ' x M3',
    ' x M3 "or so" on 20 mm',
    ' x M3 on -20 x 20 mm',
    ' x M3 on 20 mm .. 30 mm',
    ' x M3 on 0 x 20 mm',
    ' x M3 on 20',
    ' x M3 x M3 on 20 mm',
  ],
  range: [
    '',
    ' .. 26',
    ' .. 900 V',
    ' .. 12S',
    ' .. 1 V',
    ' .. -5 V',
    ' .. 26 V "or so"',
    ' x 3 V .. 26 V',
    ' "or so"',
  ],
  cells: ['', '2P', ' 0P', ' 1.5P', '2P 2P', ' "or so"', ' .. 4S', ' x 3', ' 2S'],
};

const behind = (shape: Shape) =>
  fc.constantFrom(...(BEHIND[shape] ?? ['', '', '', ' .. 1200 mAh', ' "or so"', ' x 3', ' x Odd', ' 12', ' 5 mm']));

const line: fc.Arbitrary<Line> = fc.constantFrom(...PROPERTIES).chain(({ kind, property }) =>
  fc
    .record({
      sign: seldom(fc.constant(''), fc.constantFrom('-', '−')),
      number,
      unit: property.shape === 'pattern' ? seldom(fc.constant(''), fc.constant('mm')) : unitOf(property),
      rest: behind(property.shape),
    })
    .map(({ sign, number, unit, rest }) => ({ kind, property, value: `${sign}${number}${unit && ` ${unit}`}${rest}` })),
);

let workspace: Workspace;
beforeAll(async () => {
  workspace = await Workspace.of({ 'a.fettle': '' });
});

interface Outcome {
  readonly text: string;
  readonly isRead: boolean;
  readonly found: readonly { readonly id: string; readonly isError: boolean; readonly isInValue: boolean }[];
}

/** Each line in a part of its own, all in one file. */
async function outcomesOf(lines: readonly Line[]): Promise<Outcome[]> {
  const texts = lines.map(({ kind, property, value }, i) => `${kind} N${i} {\n  ${property.name}: ${value}\n}\n`);
  await workspace.edit('a.fettle', texts.join(''));
  const { parts, problems } = readDocument(workspace.document('a.fettle'));
  let start = 0;
  return lines.map(({ property, value }, i) => {
    const text = texts[i] ?? '';
    const [from, to] = [start + text.indexOf(value), start + text.indexOf(value) + value.length];
    const first = start;
    start += text.length;
    const part = parts.find(({ name }) => name === `N${i}`);
    if (!part) throw new Error(`no part of ${text}`);
    const found = problems
      .filter(({ place }) => place.start > first && place.end < start && place.start >= from - property.name.length - 2)
      .map((problem) => ({
        id: problem.id,
        isError: severityOfProblem(problem) === 'error',
        isInValue: problem.place.start >= from && problem.place.end <= to,
      }));
    return { text, isRead: readBy(part, property) !== undefined, found };
  });
}

const RUNS = { seed: 7, numRuns: cases(20, 400) };
const lines = fc.array(line, { minLength: 40, maxLength: 40 });

describe('a figure', () => {
  it('that is not read has a finding', async () => {
    await fc.assert(
      fc.asyncProperty(lines, async (written) => {
        const silent = (await outcomesOf(written)).filter(({ isRead, found }) => !isRead && found.length === 0);
        expect(silent.map(({ text }) => text)).toEqual([]);
      }),
      RUNS,
    );
  });

  it.each(['2.5 S', '2.5 .. 4S', '3S .. 4.5S', '0 .. 4S'])('rated: %s: cells are counted', async (value) => {
    const rated = PROPERTIES.filter(({ kind, property }) => kind === 'motor' && property.name === 'rated');
    const [outcome] = await outcomesOf(rated.map((one) => ({ ...one, value })));
    expect(outcome).toMatchObject({ isRead: false, found: [{ isError: true }] });
  });

  it('in error is not read', async () => {
    await fc.assert(
      fc.asyncProperty(lines, async (written) => {
        const read = (await outcomesOf(written)).filter(
          ({ isRead, found }) => isRead && found.some(({ isError, isInValue }) => isError && isInValue),
        );
        expect(read.map(({ text, found }) => `${text} ${found.map(({ id }) => id)}`)).toEqual([]);
      }),
      RUNS,
    );
  });
});
