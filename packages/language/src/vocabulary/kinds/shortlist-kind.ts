/** What is to be decided: parts and figures that are tried, what is required, what is preferred. */
import { NONE } from '../../units/dimension.ts';
import { RESULTS } from '../results.ts';
import { block } from './common.ts';
import { AIRFRAME } from './fittings.ts';
import { MOTOR } from './motor-kind.ts';
import { PACK } from './pack-kind.ts';
import { ESC } from './power.ts';
import { PROPELLER } from './propeller-kind.ts';

const VARIED_SCHEMAS = { pack: PACK, motor: MOTOR, propeller: PROPELLER, airframe: AIRFRAME, esc: ESC } as const;

export type VariedKind = keyof typeof VARIED_SCHEMAS;

type Properties = { readonly [Kind in VariedKind]: (typeof VARIED_SCHEMAS)[Kind]['properties'] }[VariedKind];

type VariedProperty = Properties extends infer Of ? (Of extends unknown ? Of[keyof Of] : never) : never;

type VariedFigureProperty = Extract<VariedProperty, { readonly shape: 'quantity' | 'count' }>;

/** Kinds of part of which a shortlist can try others. */
export const VARIED_KINDS: readonly VariedKind[] = ['pack', 'motor', 'propeller', 'airframe', 'esc'];

/** Kinds that have a figure of that name, of those in a shortlist: one number with a unit, or a count. */
export function kindsWithFigure(name: string): readonly VariedKind[] {
  return VARIED_KINDS.filter((kind) => variedFigure(kind, name) !== undefined);
}

export function variedFigure(kind: VariedKind, name: string): VariedFigureProperty | undefined {
  const properties: Readonly<Record<string, VariedProperty>> = VARIED_SCHEMAS[kind].properties;
  const property = properties[name];
  return property?.shape === 'quantity' || property?.shape === 'count' ? property : undefined;
}

/** Figures that a shortlist can try: a pack of another size, a motor rewound, a lighter propeller. */
const VARIED_FIGURES: readonly string[] = [
  ...new Set(
    VARIED_KINDS.flatMap((kind) =>
      Object.keys(VARIED_SCHEMAS[kind].properties).filter((name) => variedFigure(kind, name)),
    ),
  ),
];

export const SHORTLIST = block(
  'shortlist',
  'A choice to be made before buying: what may be exchanged in a build, what is required, and what is preferred.',
  {
    for: {
      shape: 'part',
      parts: ['build'],
      required: true,
      description: 'The build whose parts are exchanged.',
    },
    vary: {
      shape: 'vary',
      parts: VARIED_KINDS,
      words: [...VARIED_KINDS, ...VARIED_FIGURES],
      required: true,
      repeats: true,
      clauses: {
        in: { shape: 'text' },
        like: { shape: 'part', parts: VARIED_KINDS },
        of: { shape: 'word', words: VARIED_KINDS },
        duty: { shape: 'range', dimension: NONE, unit: '%' },
        step: { shape: 'quantity' },
      },
      description:
        'What is tried, one per line: a part, `pack in "../parts"`, `propeller like P3018x2`, `duty 60 % .. 100 % step 5 %`, `mass of propeller in 2 g .. 3 g`.',
    },
    prefer: {
      shape: 'word',
      words: RESULTS.map(({ name }) => name),
      required: true,
      repeats: true,
      description:
        'A result by which candidates are ordered; of several, the candidates stay that no other one beats in all of them.',
    },
  },
);
