/** A number of a page, SI with the unit in which to print it. */
export interface Quantity {
  readonly value: number;
  readonly plusMinus: number;
  readonly unit: string;
  /** What may as well be below zero is as wide on both sides. */
  readonly isSigned?: true;
}
