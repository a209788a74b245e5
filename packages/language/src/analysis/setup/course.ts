/** How a propeller's coefficients change over speed. */
import { isAbout } from '../../model/benches.ts';
import type { Build, Figure, Part } from '../../model/build.ts';
import { courseSpeed, KNOTS, likeness } from '../../physics/coefficient-course.ts';
import type { CoefficientCourse } from '../../physics/craft.ts';
import { cholesky, solveTransposed } from '../learn/symmetric.ts';
import { coefficientExponents, departureOf } from '../uncertainty/model-form.ts';
import type { Formula, Template } from './template.ts';

/** Standard deviations of the departures: ours, from held-out rows. */
export const AMPLITUDE = { thrust: 0.04, power: 0.05 };
/** So that the knots' matrix stays positive with rounding. */
const JITTER = 1e-9;
const CORRELATED = cholesky(
  KNOTS.map((a, i) => Float64Array.from(KNOTS, (b, j) => likeness(a, b) + (i === j ? JITTER : 0))),
);

/** Departures from a power law count where rows of a stand show them. */
export function courseTemplate(
  { benches }: Build,
  propeller: Part<'propeller'>,
  diameter: Figure,
): Template<CoefficientCourse> {
  const exponents = coefficientExponents(propeller);
  const overSpeed = benches.some((bench) => isAbout(bench, propeller));
  return {
    speed: courseSpeed(diameter.value),
    thrustExponent: (read) => read(exponents.thrust),
    powerExponent: (read) => read(exponents.power),
    thrustWeights: overSpeed ? weights(propeller, 'thrust') : [],
    powerWeights: overSpeed ? weights(propeller, 'power') : [],
  };
}

/** δ at the knots is normal with their correlation; the bumps that pass through it have the weights K⁻¹·δ = L⁻ᵀ·ζ: columns of L⁻ᵀ. */
const WEIGHTS = KNOTS.map((_, j) =>
  solveTransposed(
    CORRELATED,
    Float64Array.from(KNOTS, (__, i) => (i === j ? 1 : 0)),
  ),
);

function weights(propeller: Part<'propeller'>, which: 'thrust' | 'power'): Formula[] {
  const figures = KNOTS.map((_, i) => departureOf(propeller, which, i));
  return KNOTS.map(
    (_, i) => (read) =>
      AMPLITUDE[which] * figures.reduce((sum, figure, j) => sum + (WEIGHTS[j]?.[i] ?? 0) * read(figure), 0),
  );
}
