/** Values of a property that are more than one number. */
import type { Place } from '../syntax/place.ts';
import type { SideName } from '../vocabulary/schema.ts';

export interface Range {
  readonly low: number;
  readonly high: number;
  readonly unit: string;
  readonly place: Place;
  readonly text: string;
}

/** `4 x M2 on 25.5 x 25.5 mm`, `3 x M1.4 on 6.6 mm` (a circle's diameter). Metres. */
export interface BoltPattern {
  readonly count: number;
  readonly thread: string;
  readonly sides: readonly number[];
  readonly place: Place;
}

export interface Size {
  /** m, as written. */
  readonly sides: readonly number[];
  /** The same by the names the vocabulary gives them (`diameter`, `height`). */
  readonly named: Readonly<Partial<Record<SideName, number>>>;
  readonly place: Place;
}

/** `3S2P`: three in series, two in parallel. */
export interface Cells {
  readonly series: number;
  readonly parallel: number;
  readonly place: Place;
}
