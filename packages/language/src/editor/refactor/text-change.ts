/** The text between two offsets becomes another one. */
export interface Change {
  readonly from: number;
  readonly to: number;
  readonly text: string;
}
