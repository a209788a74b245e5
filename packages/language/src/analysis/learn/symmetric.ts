/**
 * Small dense symmetric matrices, as rows. Own lines instead of a library: two textbook routines on matrices of some twenty rows.
 * Source: G. H. Golub, C. F. Van Loan, Matrix Computations, 4th ed. 2013, 4.2 (Cholesky) and 8.5 (Jacobi).
 */

export type Matrix = readonly Float64Array[];

/** Lower triangle L with L·Lᵀ = matrix (positive definite). */
export function cholesky(matrix: Matrix): Float64Array[] {
  const lower = matrix.map(({ length }) => new Float64Array(length));
  for (const [i, row] of lower.entries()) {
    for (let j = 0; j <= i; j++) {
      const other = lower[j] as Float64Array;
      let rest = matrix[i]?.[j] ?? 0;
      for (let k = 0; k < j; k++) rest -= (row[k] ?? 0) * (other[k] ?? 0);
      row[j] = i === j ? Math.sqrt(Math.max(rest, 0)) : rest / (other[j] ?? 1);
    }
  }
  return lower;
}

/** x with Lᵀ·x = right. */
export function solveTransposed(lower: Matrix, right: Float64Array): Float64Array {
  const x = Float64Array.from(right);
  for (let i = lower.length - 1; i >= 0; i--) {
    const row = lower[i] as Float64Array;
    x[i] = (x[i] ?? 0) / (row[i] ?? 1);
    for (let k = 0; k < i; k++) x[k] = (x[k] ?? 0) - (row[k] ?? 0) * (x[i] ?? 0);
  }
  return x;
}

/** x with L·x = right. */
export function solveLower(lower: Matrix, right: Float64Array): Float64Array {
  const x = Float64Array.from(right);
  for (const [i, row] of lower.entries()) {
    for (let k = 0; k < i; k++) x[i] = (x[i] ?? 0) - (row[k] ?? 0) * (x[k] ?? 0);
    x[i] = (x[i] ?? 0) / (row[i] ?? 1);
  }
  return x;
}

export interface Eigen {
  readonly values: Float64Array;
  /** Unit vectors, one a value. */
  readonly vectors: readonly Float64Array[];
}

const SWEEPS = 60;
/** Of the largest entry. */
const NEGLIGIBLE = 1e-14;

/** All eigenvalues and eigenvectors, by rotations. */
export function eigenOf(matrix: Matrix): Eigen {
  const a = matrix.map((row) => Float64Array.from(row));
  const size = a.length;
  const vectors = a.map((_, i) => Float64Array.from({ length: size }, (__, j) => (i === j ? 1 : 0)));
  const largest = a.reduce((most, row) => row.reduce((top, x) => Math.max(top, Math.abs(x)), most), 0);
  for (let sweep = 0; sweep < SWEEPS; sweep++) {
    let off = 0;
    for (let p = 0; p < size; p++) {
      for (let q = p + 1; q < size; q++) {
        const between = (a[p] as Float64Array)[q] ?? 0;
        off = Math.max(off, Math.abs(between));
        if (Math.abs(between) > NEGLIGIBLE * largest) rotate(a, vectors, p, q);
      }
    }
    if (off <= NEGLIGIBLE * largest) break;
  }
  return { values: Float64Array.from(a, (row, i) => row[i] ?? 0), vectors };
}

/** Makes the entry between p and q zero; `vectors` turn along. */
function rotate(a: readonly Float64Array[], vectors: readonly Float64Array[], p: number, q: number): void {
  const [rowP, rowQ] = [a[p], a[q]] as [Float64Array, Float64Array];
  const theta = ((rowQ[q] ?? 0) - (rowP[p] ?? 0)) / (2 * (rowP[q] ?? 1));
  const tangent = (theta < 0 ? -1 : 1) / (Math.abs(theta) + Math.hypot(theta, 1));
  const cosine = 1 / Math.hypot(tangent, 1);
  const sine = tangent * cosine;
  for (const row of a) {
    const [x, y] = [row[p] ?? 0, row[q] ?? 0];
    row[p] = cosine * x - sine * y;
    row[q] = sine * x + cosine * y;
  }
  turn(rowP, rowQ, cosine, sine);
  turn(vectors[p] as Float64Array, vectors[q] as Float64Array, cosine, sine);
}

function turn(one: Float64Array, other: Float64Array, cosine: number, sine: number): void {
  for (let k = 0; k < one.length; k++) {
    const [x, y] = [one[k] ?? 0, other[k] ?? 0];
    one[k] = cosine * x - sine * y;
    other[k] = sine * x + cosine * y;
  }
}
