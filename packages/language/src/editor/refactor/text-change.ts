/** The text between two offsets becomes another one. */
export interface TextChange {
  readonly from: number;
  readonly to: number;
  readonly text: string;
}
