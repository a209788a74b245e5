/** Figures of the air around a craft, as its setup takes them. */
import type { Figure } from '../../model/build.ts';
import type { Assessment } from '../assessment.ts';
import { massOf } from '../setup/mass.ts';
import { dragAreaOf, flightsOn } from '../setup/optional.ts';

/** As declared, or as estimated where a leg depends on it. */
export const dragAreaIn = ({ build, option }: Assessment): Figure | undefined =>
  dragAreaOf(build, flightsOn(build, option), massOf(build, option));
