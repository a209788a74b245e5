/** A stretch of a text file: what a value, a name or a finding points at. Offsets are UTF-16 units, as in LSP. */
export interface Place {
  readonly uri: string;
  readonly start: number;
  readonly end: number;
}

/** Where something begins, as a key. */
export const startKey = ({ uri, start }: Place): string => `${uri}#${start}`;

/** Whether two things begin at one place: a line that is read twice, or that a copy of a build still has, is one line. */
export const isSameStart = (one: Place, other: Place): boolean => one.uri === other.uri && one.start === other.start;

export const isWithin = (inner: Place, outer: Place): boolean =>
  inner.uri === outer.uri && inner.start >= outer.start && inner.end <= outer.end;
