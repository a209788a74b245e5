/**
 * What short silicone leads are rated for by gauge: common practice (from memory), for leads in the open air of a craft. Between two
 * gauges the rating goes straight in its logarithm over the number.
 */
import { unitNamed } from '../units/parse.ts';

interface WireRating {
  readonly gauge: number;
  /** A */
  readonly continuous: number;
  /** For 10 s, A. */
  readonly burst: number;
}

/** Thin to thick. */
const WIRES: readonly WireRating[] = [
  { gauge: 30, continuous: 2, burst: 3 },
  { gauge: 28, continuous: 3, burst: 5 },
  { gauge: 26, continuous: 5, burst: 8 },
  { gauge: 24, continuous: 8, burst: 12 },
  { gauge: 22, continuous: 11, burst: 18 },
  { gauge: 20, continuous: 15, burst: 30 },
  { gauge: 18, continuous: 22, burst: 45 },
  { gauge: 16, continuous: 32, burst: 70 },
  { gauge: 14, continuous: 45, burst: 110 },
  { gauge: 12, continuous: 65, burst: 170 },
  { gauge: 10, continuous: 95, burst: 270 },
];

/** The gauge number of a copper area in m², not rounded. */
export const gaugeOf = (area: number): number => unitNamed('AWG').fromSI(area);

/** A that a lead of a copper area (m²) is rated for continuously; undefined outside the table. */
export function continuousCurrent(area: number): number | undefined {
  const gauge = gaugeOf(area);
  const below = WIRES.findIndex((wire) => wire.gauge <= gauge + 1e-9);
  const thicker = WIRES[below];
  const thinner = WIRES[below - 1];
  if (!thicker) return undefined;
  if (thicker.gauge >= gauge - 1e-9) return thicker.continuous;
  if (!thinner) return undefined;
  const share = (thinner.gauge - gauge) / (thinner.gauge - thicker.gauge);
  return thinner.continuous * (thicker.continuous / thinner.continuous) ** share;
}

/** The thinnest gauge of the table that is rated for a current, A, continuously. */
export const gaugeFor = (current: number): number | undefined =>
  WIRES.find(({ continuous }) => continuous >= current)?.gauge;
