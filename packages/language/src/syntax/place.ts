/** A stretch of a text file: what a value, a name or a finding points at. Offsets are UTF-16 units, as in LSP. */
export interface Place {
  readonly uri: string;
  readonly start: number;
  readonly end: number;
}

export const isWithin = (inner: Place, outer: Place): boolean =>
  inner.uri === outer.uri && inner.start >= outer.start && inner.end <= outer.end;
