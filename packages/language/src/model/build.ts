/**
 * The plain objects between syntax tree and computation. Nothing here is a syntax node: a `Place` remembers where a value came from.
 */
import type { Place } from '../syntax/place.ts';
import type { Dimension } from '../units/quantity.ts';
import type { KeptLimit } from '../vocabulary/limits.ts';
import type {
  CellsName,
  DateName,
  FigureName,
  PartName,
  PatternName,
  PropertyName,
  RangeName,
  SizeName,
  WordName,
} from '../vocabulary/properties.ts';
import type { ResultKey } from '../vocabulary/results.ts';
import type { BlockKind, ClauseWord, Origin, Whose } from '../vocabulary/schema.ts';
import type { Severity } from '../vocabulary/severities.ts';
import type { Recording } from './log/recording.ts';
import type { BoltPattern, Cells, Range, Size } from './part-values.ts';

/** Reads a figure's present value; a perturbed reading moves one input and everything estimated from it. */
export type Reading = (figure: Figure) => number;

/** A number with its ±, its origin and its identity. Same `id` in two places of a craft = same part = same error. */
export interface Figure {
  /** File and declaring part: `…/motors.fettle#motor M1606_3150.resistance`. Not for people: they read the label. */
  readonly id: string;
  /** What it is, in words: "resistance of M1606_3150". */
  readonly label: string;
  readonly whose: Whose;
  /** SI. */
  readonly value: number;
  readonly dimension: Dimension;
  /** Unit in which to print it. */
  readonly unit: string;
  /** One standard deviation, SI. */
  readonly standardUncertainty: number;
  /** On which scale its error is normal, where that is not as for any figure of its sort; see `analysis/uncertainty/spread.ts`. */
  readonly spread?: 'log' | 'share' | 'plain';
  readonly origin: Origin;
  /** The words behind the origin ("milliohm meter, 20 degC"). */
  readonly source?: string;
  /** Where it is written; absent when estimated. */
  readonly place?: Place;
  /** When estimated from other figures: recomputes the value from a reading of them; scatter is `standardUncertainty`. */
  readonly recompute?: (read: Reading) => number;
  /** Why it has this value, when estimated or defaulted: one sentence. */
  readonly because?: string;
  /** Values of the clauses behind it, SI (`at 7.4 V`, `for 5 s`), by word. */
  readonly conditions: Readonly<Partial<Record<ClauseWord, Figure>>>;
}

export interface Note {
  readonly text: string;
  /** `assembly`, `preflight` or none. */
  readonly occasion?: string;
  readonly place: Place;
}

/** One part after `like` is resolved: its own lines replace what it inherits. Of a part whose kind is known only the names of that kind are read. */
export interface Part<Kind extends BlockKind = BlockKind> {
  readonly kind: Kind;
  readonly name: string;
  readonly title?: string;
  /** The name's place. */
  readonly place: Place;
  /** Declared, inherited, estimated or defaulted; undefined when nobody knows. A `price` is that of one piece. */
  figure(property: FigureName<Kind>): Figure | undefined;
  /** Declared or inherited only. */
  declared(property: FigureName<Kind>): Figure | undefined;
  /** The first number that its line states, whatever its shape: of a range the lower end, of cells those in series. */
  firstNumber(property: PropertyName<Kind>): Figure | undefined;
  /** Its default. */
  usual(property: FigureName<Kind>): Figure | undefined;
  range(property: RangeName<Kind>): Range | undefined;
  word(property: WordName<Kind>): string | undefined;
  /** `2026-10-04` */
  day(property: DateName<Kind>): string | undefined;
  size(property: SizeName<Kind>): Size | undefined;
  bolts(property: PatternName<Kind>): BoltPattern | undefined;
  cells(property: CellsName<Kind>): Cells | undefined;
  /** Another part named in a line (`motor: M1606` in a bench). */
  part(property: PartName<Kind>): Part | undefined;
  /** Place of the property's line, for findings that point at it. */
  placeOf(property: PropertyName<Kind>): Place | undefined;
  /** Rails of an esc, merged by name along `like`. */
  readonly rails: readonly Part<'rail'>[];
  readonly notes: readonly Note[];
  /** Properties whose line is there but cannot be read yet: nobody estimates them. */
  readonly holes: ReadonlySet<PropertyName<Kind>>;
}

export interface RotorLine {
  readonly count: Figure;
  readonly motor: Part<'motor'>;
  readonly propeller: Part<'propeller'>;
  /** `upper` and `lower` of coaxial pairs; `single` otherwise. */
  readonly position: 'single' | 'upper' | 'lower';
  readonly place: Place;
}

/** A board, regulator, load, item, lead … as used in a build, under the name by which it is addressed there. */
export interface Use<Kind extends BlockKind = BlockKind> {
  readonly name: string;
  readonly count: number;
  readonly part: Part<Kind>;
  /** How far ahead of the rotors' middle it is, when stated (`at 12 mm`). */
  readonly position?: Figure;
  readonly place: Place;
}

/** Where something is fed from. */
export type Feed = { readonly pack: true } | { readonly rail: RailUse };

export interface RailUse {
  /** `video`, `Top.video`, `CamPower`: as in `rail.<name>.voltage`. */
  readonly name: string;
  /** The rail of an esc, or a separate regulator. */
  readonly part: Part<'rail' | 'regulator'>;
  readonly from: Feed;
  readonly place: Place;
}

export interface LoadUse extends Use<'load'> {
  readonly from: Feed;
  /** The `from …` clause, when written: what a fix replaces. */
  readonly fromPlace?: Place;
  readonly mount?: Part<'mount'>;
}

export interface PackOption {
  /** Its own name, or the one behind `as`. */
  readonly name: string;
  readonly part: Part<'pack'>;
  readonly count: number;
  /** How far ahead of the rotors' middle it is, when stated. */
  readonly position?: Figure;
  readonly arrangement: 'single' | 'parallel' | 'series';
  /** Share; 1 when nothing is stated. */
  readonly dutyLimit: Figure;
  /** The packs of which `part` is made, where they differ: `Long850_4S with Long650_4S in parallel`. */
  readonly beside?: readonly { readonly part: Part<'pack'>; readonly count: number }[];
  /** The `pack:` line. */
  readonly place: Place;
  /** The `duty 80 %` clause, when written. */
  readonly dutyPlace?: Place;
}

export type ComparisonOperator = '<' | '<=' | '>' | '>=';

/** A requirement's expression with precedence resolved. */
export type Expression =
  | { readonly kind: 'quantity'; readonly figure: Figure; readonly place: Place }
  /** `of`: undefined where no result has the name. */
  | { readonly kind: 'result'; readonly name: string; readonly of: ResultKey | undefined; readonly place: Place }
  | {
      readonly kind: 'arithmetic';
      readonly operator: '+' | '-' | '*' | '/';
      readonly left: Expression;
      readonly right: Expression;
      readonly place: Place;
    }
  | {
      readonly kind: 'extreme';
      readonly call: 'min' | 'max';
      readonly arguments: readonly Expression[];
      readonly place: Place;
    }
  | {
      readonly kind: 'comparison';
      readonly operator: ComparisonOperator;
      readonly left: Expression;
      readonly right: Expression;
      readonly place: Place;
    }
  | { readonly kind: 'and' | 'or'; readonly operands: readonly Expression[]; readonly place: Place }
  | { readonly kind: 'not'; readonly operand: Expression; readonly place: Place };

export interface Requirement {
  readonly condition: Expression;
  /** As written, white space folded. */
  readonly text: string;
  /** Name of a pack option; all when absent. */
  readonly pack?: string;
  readonly because?: string;
  /** Of the block that this one is like: bounds the same result from the same side, and no longer holds. */
  readonly replaces?: Requirement;
  /** Names the rules block it comes from, when not the build itself. */
  readonly from?: string;
  readonly place: Place;
}

/** `keep 20 % in reserve on esc.continuous`: value ≤ 80 % of the limit. */
export interface Margin {
  readonly share: number;
  readonly limit: KeptLimit;
  readonly place: Place;
}

export interface SeverityChange {
  readonly finding: string;
  readonly verb: 'raise' | 'lower';
  readonly to: Severity;
  readonly because?: string;
  readonly place: Place;
}

export interface Acceptance {
  readonly finding: string;
  /** The accepted finding comes back when its number gets past this; SI. */
  readonly below?: Figure;
  readonly pack?: string;
  readonly because?: string;
  /** Without a reason, or with words that could not be read: nobody knows yet what it is to accept. */
  readonly isUnfinished?: boolean;
  readonly place: Place;
  /** With its line break: what goes when it is taken out. */
  readonly wholeLine: Place;
}

export interface FlightShare {
  readonly share: Figure;
  readonly hoverMultiple: Figure;
}

/** Rules after `like`, and with the build's own lines on top (the build beats its rules). */
export interface Rules {
  readonly reserve?: Figure;
  readonly airTemperature: Figure;
  readonly altitude: Figure;
  readonly humidity?: Figure;
  readonly burstMultiple: Figure;
  readonly groundTime: Figure;
  /** How far it may lean against the wind, when stated; rad. */
  readonly tilt?: Figure;
  readonly flown: readonly FlightShare[];
  readonly requirements: readonly Requirement[];
  readonly margins: readonly Margin[];
  readonly severities: readonly SeverityChange[];
}

/** What a recorder wrote of one flight, as the `log` line of its observation reads it. */
export interface FlightLog {
  /** As written. */
  readonly file: string;
  /** The line. */
  readonly place: Place;
  /** Distinguishes two logs, and two ways of reading one. */
  readonly content: string;
  readonly recording: Recording;
  /** SI, a number a moment, NaN where there is none; undefined where the line names no such column. */
  series(name: string): Float64Array | undefined;
}

/** One leg of a flight; numbers in SI, as stated, without ±. */
export interface Released {
  readonly use: Use;
  readonly count: number;
}

export interface Leg {
  readonly manner: 'hover' | 'cruise' | 'climb' | 'descent' | 'home' | 'release';
  /** s, or m: one of them, but for the way home and what takes no time. */
  readonly time?: number;
  readonly distance?: number;
  /** m/s through the air; of a climb and a descent upwards and downwards. */
  readonly speed?: number;
  /** m/s from ahead; below zero from behind. */
  readonly wind: number;
  /** Of each thing on board so many; all of them are the same part. */
  readonly released?: readonly Released[];
  /** As written. */
  readonly text: string;
  readonly place: Place;
}

/** A flight that a build is to make. */
export interface Flight {
  readonly name: string;
  readonly title?: string;
  /** The pack it is flown on; on all when absent. */
  readonly pack?: string;
  readonly legs: readonly Leg[];
  /** The `flight:` line. */
  readonly place: Place;
}

export interface Observation {
  /** The craft it was made with and which of its observations it is: begins the ids of what belongs to it. */
  readonly id: string;
  /** Whose instruments read it: the build that it is in. */
  readonly craft: string;
  readonly title: string;
  readonly pack?: string;
  readonly part: Part<'observed'>;
  /** How it was flown, where its lines state it; else it hovered. */
  readonly flown: readonly FlightShare[];
  readonly log?: FlightLog;
  readonly place: Place;
}

export interface Kin {
  readonly build: Build;
  /** One that the other is like. */
  readonly isBase: boolean;
}

/** A word of a build (`motors`), kind and property of a part in it (`motor.kv`), or `}` while its end is not typed. */
export type Hole = PropertyName | `${BlockKind}.${PropertyName}` | 'like' | '}';

export interface Build {
  readonly name: string;
  readonly title?: string;
  readonly uri: string;
  /** The name's place. */
  readonly place: Place;
  readonly airframe?: Use<'airframe'>;
  readonly rotors: readonly RotorLine[];
  readonly escs: readonly Use<'esc'>[];
  readonly regulators: readonly Use<'regulator'>[];
  readonly rails: readonly RailUse[];
  readonly loads: readonly LoadUse[];
  /** With loads whose source cannot be determined. */
  readonly items: readonly Use<'item' | 'load'>[];
  readonly leads: readonly Use<'lead'>[];
  readonly mounts: readonly Use<'mount'>[];
  /** Bought with it, and not on board. */
  readonly spares: readonly Use[];
  readonly packs: readonly PackOption[];
  readonly flights: readonly Flight[];
  readonly rules: Rules;
  readonly acceptances: readonly Acceptance[];
  readonly observations: readonly Observation[];
  /**
   * Builds on which something was observed that this one may learn from: those that it is like, and those in its sight that share a motor, a propeller
   * or a pack with it. Each keeps its own parts: what concerned a part that this one has no longer is not learnt here.
   */
  readonly kin: () => readonly Kin[];
  /** Rows of test stands about its propellers. */
  readonly benches: readonly Bench[];
  readonly notes: readonly Note[];
  /** Dry mass put on the scale, when the build states `dry_mass: …`; it then replaces the sum of the parts. */
  readonly dryMass?: Figure;
  /** The build it is like that was on the scale: what this one adds to it, takes out or exchanges changes that mass. */
  readonly weighed?: Build;
  /** What is there but cannot be read yet (half-typed, unresolved): checks that depend on it stay silent. */
  readonly holes: ReadonlySet<Hole>;
  /** Whole blocks that it is made of: its own, those it is like, its parts, rules and test stands. */
  readonly blocks: readonly Place[];
  /** Whether text at this place is part of it: in one of its blocks, or in its file outside all blocks. */
  isMadeOf(place: Place): boolean;
}

export interface BenchColumn {
  /** `duty`, `voltage`, `current`, `thrust`, `speed` … */
  readonly name: string;
  readonly unit: string;
  readonly dimension: Dimension;
  readonly place: Place;
}

/** Rows measured on a test stand. */
export interface Bench {
  /** Its `motor`, `propeller`, `esc` and `air` lines. */
  readonly part: Part;
  readonly columns: readonly BenchColumn[];
  /** SI, in the order of the columns; undefined where the cell is `-` or empty. */
  readonly rows: readonly (readonly (number | undefined)[])[];
  /** Of each row; of rows in a file of their own, the line that names it. */
  readonly rowPlaces: readonly Place[];
  readonly place: Place;
}
