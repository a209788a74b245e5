/** Which width the model's own terms have for a build: what its motors and propellers were measured by decides. */
import { isSamePart } from '../model/benches.ts';
import type { Build, Figure, RotorLine } from '../model/build.ts';
import { type BenchRow, benchFit, electricalRows } from './bench.ts';
import { COVERAGE } from './estimate.ts';
import { type FullDutyBasis, fullDuty } from './model-form.ts';

/** Duty from which on a row counts as full duty. */
const AT_FULL_DUTY = 0.98;

/** As the rotors of a build are known: the least known one decides. */
export function fullDutyOf(build: Build): Figure {
  const bases = build.rotors.map((line) => fullDutyBasis(build, line));
  return fullDuty(
    bases.find((basis) => basis === 'size') ?? bases.find((basis) => basis === 'resistance') ?? bases[0] ?? 'size',
  );
}

function fullDutyBasis(build: Build, line: RotorLine): FullDutyBasis {
  const rows = rowsOfPair(build, line);
  if (rows.some(({ duty }) => duty !== undefined && duty >= AT_FULL_DUTY)) return 'stand';
  return rows.some(({ speed }) => speed !== undefined) || line.motor.declared('resistance') ? 'resistance' : 'size';
}

/** Rows of a stand within this factor of hover thrust tell what part duty costs. */
const NEAR_HOVER = 2;

/**
 * The part-duty term of a craft: as above, or narrower where stands measured watts near hover thrust with each of its motors.
 * @param usual the term by size
 * @param thrust of one rotor in hover, N
 */
export function partDutyOf(build: Build, usual: Figure, thrust: number): Figure {
  const measured = build.rotors.every((line) =>
    rowsOfPair(build, line).some(
      (row) =>
        (row.duty === undefined || row.duty < AT_FULL_DUTY) &&
        Math.max(row.thrust / thrust, thrust / row.thrust) <= NEAR_HOVER,
    ),
  );
  const plusMinus = Math.min(COVERAGE * usual.standardUncertainty, 0.06);
  return build.rotors.length > 0 && measured
    ? {
        ...usual,
        standardUncertainty: plusMinus / COVERAGE,
        because: 'rows near hover thrust were measured with this motor and propeller',
      }
    : usual;
}

/** Rows with volts and amperes of a line's own motor with its propeller. */
function rowsOfPair(build: Build, line: RotorLine): BenchRow[] {
  const fit = benchFit(build, line);
  return (fit ? electricalRows(fit) : []).filter(({ bench }) => {
    const motor = bench.part.part('motor');
    return motor !== undefined && isSamePart(motor, line.motor);
  });
}
