/**
 * What of a build can be changed: a figure of its parts, the duty limit, its payload, the air. A knob moves all that goes with it: a larger
 * pack of the same make is heavier and has less resistance, a motor wound for another kv has another resistance.
 */

import { rollup } from 'd3-array';
import type { Build, Figure, PackOption, Part } from '../../model/build.ts';
import { fittedSlots, slotsOf } from '../../model/slots.ts';
import { LENGTH, MASS, NONE } from '../../units/dimension.ts';
import { displayUnit } from '../../units/print.ts';
import type { Dimension } from '../../units/quantity.ts';
import { type FigureName, isFigureProperty, propertyInWords, schemaOf } from '../../vocabulary/properties.ts';
import type { BlockKind } from '../../vocabulary/schema.ts';
import type { Changed, SetupChange } from '../assess.ts';
import type { Shifts } from '../setup/template.ts';
import { withDutyLimit } from './changed-craft.ts';

export interface Knob {
  /** `motor kv`, `item mass`, `duty`: kind and property, or a word of a build. */
  readonly name: string;
  /** What else it is called: the part's name in place of its kind. */
  readonly others: readonly string[];
  /** What those of all parts of its kind are called, where there are several: `motor kv`. */
  readonly ofKind?: string;
  /** In words: "kv of M1606_3150". */
  readonly label: string;
  /** What moves with it, in words; none where nothing does. */
  readonly along?: string;
  readonly unit: string;
  readonly dimension: Dimension;
  /** SI. */
  readonly now: number;
  /** Between which a value can be looked for, SI. */
  readonly range: readonly [number, number];
  /** A step that a person would take, SI; signed. */
  readonly step: number;
  /** Counted: there is nothing between two and three blades. */
  readonly isWhole?: boolean;
  /** Where it is one figure of a part. */
  readonly figure?: Figure;
  /** The mass of one part. */
  readonly isMass?: boolean;
  readonly at: (value: number) => Changed;
}

/** kg */
const LARGEST_PAYLOAD = 5;
const TEN_GRAMS = 0.01;
/** Below this nothing flies. */
const LEAST_DUTY = 0.05;
/** Beyond these multiples of today's value it is another craft. */
const FARTHEST = 6;
/** A step is about so much of a value, in one, two or five of its own unit. */
const STEP = 0.07;

/** Those of a build on one pack; `isRead` by the ids of figures that results depend on. */
export function knobsOf(build: Build, option: PackOption, isRead: (id: string) => boolean = () => true): Knob[] {
  const found = [
    payload(option),
    ...duty(option),
    ...sameMake(option),
    ...rewound(build, option),
    ...airKnobs(build, option),
    ...figuresOnce(partsOf(build, option).flatMap((part) => figureKnobs(part, option, isRead))),
  ];
  const named = rollup(
    found,
    ({ length }) => length,
    ({ name }) => name,
  );
  const own = found.map((knob) => (named.get(knob.name) === 1 ? knob : byOwnName(knob)));
  return [...new Map(own.map((knob) => [knob.name, knob])).values()];
}

/** Of several parts of a kind each goes by its own name; what belongs to no part keeps its one. */
function byOwnName(knob: Knob): Knob {
  return knob.figure ? { ...knob, name: knob.others[0] ?? knob.label, ofKind: knob.name } : knob;
}

/** `motor.kv`, `motor kv`, `M1606_3150 kv`, or `kv` where only one part has it. */
export function knobNamed(
  required: string,
  knobs: readonly Knob[],
): { readonly knob: Knob | undefined; readonly several: readonly Knob[] } {
  const plain = (text: string) =>
    text
      .trim()
      .toLowerCase()
      .split(/[\s._]+/)
      .join(' ');
  const wanted = plain(required);
  const exact = knobs.find(({ name, others }) => [name, ...others].some((one) => plain(one) === wanted));
  if (exact) return { knob: exact, several: [] };
  const several = knobs.filter(
    ({ name, ofKind }) => plain(name).endsWith(` ${wanted}`) || (ofKind !== undefined && plain(ofKind) === wanted),
  );
  return { knob: several.length === 1 ? several[0] : undefined, several };
}

function payload(option: PackOption): Knob {
  return {
    name: 'item mass',
    others: ['payload', 'item'],
    label: 'mass on board',
    unit: 'g',
    dimension: MASS,
    now: 0,
    range: [0, LARGEST_PAYLOAD],
    step: TEN_GRAMS,
    at: (mass) => ({ option, change: heavier(mass) }),
  };
}

/** With so much more on board (kg), wherever it is. */
const heavier =
  (more: number): SetupChange =>
  (setup) => ({
    ...setup,
    ...(setup.dryMass !== undefined && { dryMass: setup.dryMass + more }),
    ...(setup.craft && { craft: { ...setup.craft, mass: setup.craft.mass + more } }),
  });

function duty(option: PackOption): Knob[] {
  const now = option.dutyLimit.value;
  return [
    {
      name: 'duty',
      others: ['duty limit', 'pack duty'],
      label: 'duty limit',
      unit: '%',
      dimension: NONE,
      now,
      range: [LEAST_DUTY, 1],
      step: -0.1,
      at: (share) => ({ option: withDutyLimit(option, share) }),
    },
  ];
}

/** Packs of one make in other sizes: capacity goes as the mass, resistance as its inverse. */
function sameMake(option: PackOption): Knob[] {
  const { part } = option;
  if (option.beside) return [];
  const [capacity, mass, resistance] = (['capacity', 'mass', 'cell_resistance'] as const).map((name) =>
    part.figure(name),
  );
  if (!capacity || !mass) return [];
  const at = (scale: number): Changed => ({
    option,
    shifts: shiftsOf([
      [capacity, (value) => value * scale],
      [mass, (value) => value * scale],
      // An estimated resistance follows the capacity by itself.
      [resistance?.recompute ? undefined : resistance, (value) => value / scale],
    ]),
  });
  const of = (figure: Figure, property: string, along: string): Knob => ({
    name: `pack ${property}`,
    others: [`${part.name} ${property}`],
    label: `${propertyInWords(property)} of ${part.name}`,
    along,
    unit: figure.unit,
    dimension: figure.dimension,
    now: figure.value,
    range: [figure.value / FARTHEST, figure.value * FARTHEST],
    step: niceStep(figure.value, figure.unit),
    figure,
    isMass: property === 'mass',
    at: (value) => at(value / figure.value),
  });
  return [
    of(capacity, 'capacity', 'a pack of the same make: as much energy per kilogram'),
    of(mass, 'mass', 'a pack of the same make: as much energy per kilogram'),
  ];
}

/** The same motor with other turns of as much copper: resistance goes as the inverse square of kv, no-load current as kv. */
function rewound({ rotors }: Build, option: PackOption): Knob[] {
  const motors = new Map(rotors.map(({ motor }) => [motor.name, motor]));
  return [...motors.values()].flatMap((motor): Knob[] => {
    const kv = motor.figure('kv');
    if (!kv) return [];
    const at = (value: number): Changed => {
      const ratio = value / kv.value;
      const [resistance, idle] = (['resistance', 'no_load_current'] as const).map((name) => motor.declared(name));
      return {
        option,
        shifts: shiftsOf([
          [kv, (one) => one * ratio],
          [resistance, (one) => one / ratio ** 2],
          [idle, (one) => one * ratio],
        ]),
      };
    };
    return [
      {
        name: 'motor kv',
        others: [`${motor.name} kv`],
        label: `kv of ${motor.name}`,
        along: 'the same motor wound for another kv',
        unit: kv.unit,
        dimension: kv.dimension,
        now: kv.value,
        range: [kv.value / FARTHEST, kv.value * FARTHEST],
        step: niceStep(kv.value, kv.unit),
        figure: kv,
        at,
      },
    ];
  });
}

const COLDER = -10;
const HIGHER = 500;

function airKnobs({ rules: { airTemperature, altitude } }: Build, option: PackOption): Knob[] {
  const of = (figure: Figure, knob: Pick<Knob, 'name' | 'others' | 'label' | 'range' | 'step'>): Knob => ({
    ...knob,
    unit: figure.unit,
    dimension: figure.dimension,
    now: figure.value,
    at: (value) => ({ option, shifts: shiftsOf([[figure, (one) => one + value - figure.value]]) }),
  });
  return [
    of(airTemperature, {
      name: 'air',
      others: ['air temperature', 'temperature'],
      label: 'air temperature',
      range: [233.15, 333.15],
      step: COLDER,
    }),
    {
      ...of(altitude, {
        name: 'altitude',
        others: ['air at'],
        label: 'height above the sea',
        range: [0, 6000],
        step: HIGHER,
      }),
      dimension: LENGTH,
    },
  ];
}

/** A variant that states nothing else has its base's figure. */
const figuresOnce = (knobs: readonly Knob[]): Knob[] => {
  const labels = new Set<string>();
  return knobs.filter(({ label }) => !labels.has(label) && labels.add(label));
};

/** What other knobs move, what only estimates read, and counts that decide how a build is put together, which no shift of a figure does. */
const NO_KNOBS: ReadonlySet<string> = new Set<`${BlockKind}.${FigureName}`>([
  'pack.capacity',
  'pack.mass',
  'motor.kv',
  'airframe.rotors',
  'esc.channels',
  'esc.continuous',
  'esc.burst',
]);

function figureKnobs(part: Part, option: PackOption, isRead: (id: string) => boolean): Knob[] {
  return Object.values(schemaOf(part.kind).properties).flatMap((property): Knob[] => {
    const { name, shape, plausible, unit } = property;
    if (!isFigureProperty(property) || shape === 'money' || NO_KNOBS.has(`${part.kind}.${name}`)) return [];
    const figure = part.figure(property.name);
    if (!figure || figure.value === 0 || !isRead(figure.id)) return [];
    const { fromSI, scale } = displayUnit(unit ?? figure.unit);
    // A gauge has no steps of one size.
    if (scale === undefined) return [];
    const zero = figure.dimension.point ? fromSI(0) : 0;
    const toSI = (value: number) => (value - zero) / (fromSI(1) - fromSI(0));
    const plausibly = plausible?.map(toSI) ?? [0, Number.POSITIVE_INFINITY];
    const [low = 0, high = Number.POSITIVE_INFINITY] = plausibly;
    return [
      {
        name: `${part.kind} ${propertyInWords(name)}`,
        others: [`${part.name} ${propertyInWords(name)}`],
        label: figure.label,
        unit: figure.unit,
        dimension: figure.dimension,
        now: figure.value,
        range: [Math.max(low, figure.value / FARTHEST), Math.min(high, figure.value * FARTHEST)],
        step: shape === 'count' ? 1 : niceStep(figure.value, figure.unit),
        ...(shape === 'count' && { isWhole: true }),
        figure,
        isMass: name === 'mass',
        at: (value) => ({
          option,
          shifts: shiftsOf([
            [
              figure,
              figure.dimension.point ? (one) => one + value - figure.value : (one) => (one * value) / figure.value,
            ],
          ]),
        }),
      },
    ];
  });
}

function shiftsOf(moved: readonly (readonly [Figure | undefined, (value: number) => number])[]): Shifts {
  return new Map(moved.flatMap(([figure, move]) => (figure ? [[figure.id, move] as const] : [])));
}

/** Each once, rails included; what turns comes first. */
function partsOf(build: Build, option: PackOption): Part[] {
  const slots = [...slotsOf(build, ['rotors']), ...fittedSlots(build), ...build.rails];
  return [...new Set([option.part, ...slots.map(({ part }) => part)])];
}

/** One, two or five of some power of ten of the unit, about a fourteenth of the value; SI. */
function niceStep(value: number, unit: string): number {
  const { fromSI } = displayUnit(unit);
  const scale = fromSI(1) - fromSI(0);
  const wanted = Math.abs(value * scale) * STEP;
  if (!(wanted > 0) || !Number.isFinite(wanted)) return value * STEP;
  const power = 10 ** Math.floor(Math.log10(wanted));
  const distance = (step: number) => Math.abs(Math.log(step / wanted));
  const [best = power] = [1, 2, 5, 10].map((digit) => digit * power).sort((a, b) => distance(a) - distance(b));
  return best / scale;
}
