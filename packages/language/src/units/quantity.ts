/**
 * Dimensions as exponent vectors. Angle is a base, so that rpm, rad/s and deg/s convert into one another and Hz does not
 * (no silent 2π or 60). Counts have no dimension.
 */
export interface Dimension {
  readonly length: number;
  readonly mass: number;
  readonly time: number;
  readonly current: number;
  readonly temperature: number;
  readonly angle: number;
  /** ISO 4217 code of the one currency in it, never converted; exponent in `money`. */
  readonly currency: string;
  readonly money: number;
  /** A temperature as a point on the scale (20 °C); differences and coefficients have `temperature` alone. */
  readonly point: boolean;
}
