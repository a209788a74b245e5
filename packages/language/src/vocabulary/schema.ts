import type { Dimension } from '../units/quantity.ts';

export type Kind =
  | 'airframe'
  | 'motor'
  | 'propeller'
  | 'esc'
  | 'regulator'
  | 'pack'
  | 'load'
  | 'item'
  | 'lead'
  | 'plug'
  | 'mount'
  | 'bench'
  | 'rules'
  | 'build'
  | 'shortlist'
  | 'flight';

/** Blocks that have properties of their own: the sixteen kinds, a rail of an `esc`, an observation of a `build`. */
export type BlockKind = Kind | 'rail' | 'observed';

export const isKind = (kind: BlockKind): kind is Kind => kind !== 'rail' && kind !== 'observed';

/** What a figure belongs to. */
export type Whose =
  /** `part`: as it is declared, `Board35.video` of a rail; empty of a part without a name. */
  | { readonly sort: 'property'; readonly kind: BlockKind; readonly part: string; readonly property: string }
  /** To the model: what it leaves out or takes for granted. */
  | { readonly sort: 'model' }
  /** To one flight or one instrument: nobody writes it into a file. */
  | { readonly sort: 'occasion' }
  /** A number of a line that is no property, or one that follows others. */
  | { readonly sort: 'other' };

/** Where a figure comes from: the origin word behind it, `stated` without one, `default` when the table supplied it. */
export type Origin = 'measured' | 'claimed' | 'estimated' | 'stated' | 'default';

/** A half-width (k = 2): relative (0.03) or absolute in the property's own unit. */
export type Tolerance = { readonly relative: number } | { readonly absolute: number };

/**
 * The shapes a value can have:
 * quantity `98 mohm` · range `7 V .. 26 V` (or one quantity) · size `61 x 18 x 14 mm` · pattern `4 x M2 on 25.5 x 25.5 mm` ·
 * cells `3S2P` · count `12` · share `20 % of capacity` · word `buck` · date `2026-10-04` · part `4 x M1606 with P3024x3` (a reference with clauses) ·
 * money `9.80 EUR for 8` · flown `25 % at 1.4 x hover` · air `12 degC at 250 m` · multiple `2.5 x hover for 1 s` · leg `3 km at 14 m/s against 5 m/s` · run `60 mm of 20 AWG` (length of wire)
 */
export type Shape =
  | 'quantity'
  | 'range'
  | 'size'
  | 'pattern'
  | 'cells'
  | 'count'
  | 'share'
  | 'word'
  | 'date'
  | 'part'
  | 'money'
  | 'flown'
  | 'air'
  | 'multiple'
  | 'run'
  | 'vary'
  | 'leg';

/** Shapes whose value is one number, whatever comes after it. */
export const FIGURE_SHAPES = ['quantity', 'count', 'share', 'money', 'flown', 'air', 'multiple', 'run'] as const;

export type FigureShape = (typeof FIGURE_SHAPES)[number];

/** What the sides of a size are called. */
export type SideName = 'diameter' | 'height' | 'length' | 'width';

export type ClauseWord =
  | 'at'
  | 'after'
  | 'for'
  | 'of'
  | 'on'
  | 'with'
  | 'from'
  | 'to'
  | 'in'
  | 'duty'
  | 'as'
  | 'like'
  | 'step'
  | 'hover'
  | 'climb'
  | 'descent'
  | 'home'
  | 'release'
  | 'against';

/** One property of one kind. Validation, completion, hover, formatter and the reference pages all come from it. */
export interface Property<Name extends string = string, Own extends Name = Name, Of extends Shape = Shape> {
  readonly name: Own;
  readonly shape: Of;
  /** Of the value; absent for words, texts and parts. */
  readonly dimension?: Dimension;
  /** The unit in which the trade writes it: used in fixes, hovers and `plausible`. */
  readonly unit?: string;
  /** Further units people write, offered by completion; they may be of another dimension (`75C` or `45 A`). */
  readonly otherUnits?: readonly string[];
  /** What people mistakenly write, and what they meant (`kV` → `rpm/V`). */
  readonly mistaken?: Readonly<Record<string, string>>;
  /** Inclusive, in `unit`. */
  readonly plausible?: readonly [number, number];
  /** Needed for a first result (only the nine numbers and what they depend on). */
  readonly required?: boolean;
  /** Not needed where this count is zero. */
  readonly unlessZero?: Name;
  /** Needed for a first result unless one of these is there. */
  readonly requiredUnless?: readonly Name[];
  /** Names of a size's sides, in the order written; an estimate reads them as `stator.diameter`. */
  readonly sides?: readonly SideName[];
  /** ± when none is written, by origin; falls back to `stated`. */
  readonly tolerance?: Partial<Record<Origin, Tolerance>> & { readonly stated: Tolerance };
  /** Choices of a word. */
  readonly words?: readonly string[];
  /** Kinds a `part` value may name (`rail` included). */
  readonly parts?: readonly BlockKind[];
  /** Clauses allowed behind the value, with the dimension expected. */
  readonly clauses?: Partial<Record<ClauseWord, ClauseRule>>;
  /** Allowed on several lines of one block. */
  readonly repeats?: boolean;
  /** What a build that is `like` another does with this word. */
  readonly inBuild?: 'replace' | 'add';
  /** How it is estimated when absent, in one sentence; the formula is in `estimators.ts`. */
  readonly estimated?: string;
  /** One sentence of documentation. */
  readonly description: string;
}

export interface ClauseRule {
  /** `bare`: nothing comes after the word. */
  readonly shape: 'quantity' | 'range' | 'size' | 'word' | 'part' | 'name' | 'pattern' | 'text' | 'bare';
  readonly dimension?: Dimension;
  readonly unit?: string;
  /** Inclusive, in `unit`. */
  readonly plausible?: readonly [number, number];
  readonly words?: readonly string[];
  readonly parts?: readonly BlockKind[];
  /** Of a part: several of it may be named, `2 x Crate`. */
  readonly counted?: true;
}

export interface BlockSchema<Name extends string = string, Of extends Property<Name> = Property<Name>> {
  readonly kind: BlockKind;
  /** One sentence: what it is. */
  readonly description: string;
  /** By name: that of a property found here is no longer any word of a text. */
  readonly properties: Readonly<Record<string, Of>>;
}

/** What a line does in a build (or rules) that is `like` another, in a word. */
export const alongLike = ({ inBuild }: Property): string | undefined =>
  inBuild && (inBuild === 'replace' ? 'replaces' : 'adds');
