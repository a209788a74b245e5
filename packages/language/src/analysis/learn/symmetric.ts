/**
 * Small dense symmetric matrices, as rows. Own lines instead of a library: two textbook routines on matrices of twenty to some hundred rows.
 * Source: G. H. Golub, C. F. Van Loan, Matrix Computations, 4th ed. 2013, 4.2 (Cholesky) and 8.3 (tridiagonal, QR and QL).
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

/**
 * All eigenvalues and eigenvectors: reflections make the matrix tridiagonal, QL steps with implicit shifts diagonal (R. S. Martin, C. Reinsch,
 * J. H. Wilkinson, Numer. Math. 11 (1968) 181, and A. Dubrulle, R. S. Martin, J. H. Wilkinson, Numer. Math. 12 (1968) 377; from memory, unverified).
 */
export function eigenOf(matrix: Matrix): Eigen {
  const vectors = matrix.map((row) => Float64Array.from(row));
  const values = new Float64Array(matrix.length);
  const beside = new Float64Array(matrix.length);
  if (matrix.length > 0) {
    tridiagonal(vectors, values, beside);
    diagonal(vectors, values, beside);
  }
  return { values, vectors };
}

const at = (numbers: Float64Array, i: number): number => numbers[i] as number;
const rowAt = (rows: readonly Float64Array[], i: number): Float64Array => rows[i] as Float64Array;

/** @param v the matrix, then the reflections, a row for each vector; `d` becomes the diagonal, `e` what is next to it */
function tridiagonal(v: readonly Float64Array[], d: Float64Array, e: Float64Array): void {
  const n = d.length;
  for (let j = 0; j < n; j++) d[j] = at(rowAt(v, j), n - 1);
  for (let i = n - 1; i > 0; i--) {
    let scale = 0;
    for (let k = 0; k < i; k++) scale += Math.abs(at(d, k));
    let h = 0;
    if (scale === 0) {
      e[i] = at(d, i - 1);
      for (let j = 0; j < i; j++) {
        d[j] = at(rowAt(v, j), i - 1);
        rowAt(v, j)[i] = 0;
        rowAt(v, i)[j] = 0;
      }
    } else {
      for (let k = 0; k < i; k++) {
        d[k] = at(d, k) / scale;
        h += at(d, k) ** 2;
      }
      const last = at(d, i - 1);
      const root = last > 0 ? -Math.sqrt(h) : Math.sqrt(h);
      e[i] = scale * root;
      h -= last * root;
      d[i - 1] = last - root;
      reflect(v, d, e, i, h);
    }
    d[i] = h;
  }
  accumulate(v, d);
  e[0] = 0;
}

function reflect(v: readonly Float64Array[], d: Float64Array, e: Float64Array, i: number, h: number): void {
  const own = rowAt(v, i);
  e.fill(0, 0, i);
  for (let j = 0; j < i; j++) {
    const row = rowAt(v, j);
    const f = at(d, j);
    own[j] = f;
    let g = at(e, j) + at(row, j) * f;
    for (let k = j + 1; k < i; k++) {
      g += at(row, k) * at(d, k);
      e[k] = at(e, k) + at(row, k) * f;
    }
    e[j] = g;
  }
  let sum = 0;
  for (let j = 0; j < i; j++) {
    e[j] = at(e, j) / h;
    sum += at(e, j) * at(d, j);
  }
  const half = sum / (2 * h);
  for (let j = 0; j < i; j++) e[j] = at(e, j) - half * at(d, j);
  for (let j = 0; j < i; j++) {
    const row = rowAt(v, j);
    const [f, g] = [at(d, j), at(e, j)];
    for (let k = j; k < i; k++) row[k] = at(row, k) - f * at(e, k) - g * at(d, k);
    d[j] = at(row, i - 1);
    row[i] = 0;
  }
}

/** The product of all reflections. */
function accumulate(v: readonly Float64Array[], d: Float64Array): void {
  const n = d.length;
  for (let i = 0; i < n - 1; i++) {
    const row = rowAt(v, i);
    const next = rowAt(v, i + 1);
    row[n - 1] = at(row, i);
    row[i] = 1;
    const h = at(d, i + 1);
    if (h !== 0) {
      for (let k = 0; k <= i; k++) d[k] = at(next, k) / h;
      for (let j = 0; j <= i; j++) {
        const other = rowAt(v, j);
        let g = 0;
        for (let k = 0; k <= i; k++) g += at(next, k) * at(other, k);
        for (let k = 0; k <= i; k++) other[k] = at(other, k) - g * at(d, k);
      }
    }
    next.fill(0, 0, i + 1);
  }
  for (let j = 0; j < n; j++) {
    const row = rowAt(v, j);
    d[j] = at(row, n - 1);
    row[n - 1] = j === n - 1 ? 1 : 0;
  }
}

/** Of each value; two or three are usual. */
const MOST_STEPS = 60;

function diagonal(v: readonly Float64Array[], d: Float64Array, e: Float64Array): void {
  const n = d.length;
  e.copyWithin(0, 1);
  e[n - 1] = 0;
  let shift = 0;
  let largest = 0;
  for (let l = 0; l < n; l++) {
    largest = Math.max(largest, Math.abs(at(d, l)) + Math.abs(at(e, l)));
    const isZero = (i: number) => Math.abs(at(e, i)) <= Number.EPSILON * largest;
    let m = l;
    while (m < n - 1 && !isZero(m)) m++;
    for (let step = 0; m > l && step < MOST_STEPS; step++) {
      shift += qlStep(v, d, e, l, m);
      if (isZero(l)) break;
    }
    d[l] = at(d, l) + shift;
    e[l] = 0;
  }
}

/** One QL step between two places; by how much all that follows has been shifted. */
function qlStep(v: readonly Float64Array[], d: Float64Array, e: Float64Array, l: number, m: number): number {
  const n = d.length;
  const before = at(d, l);
  const ratio = (at(d, l + 1) - before) / (2 * at(e, l));
  const root = ratio < 0 ? -Math.hypot(ratio, 1) : Math.hypot(ratio, 1);
  d[l] = at(e, l) / (ratio + root);
  d[l + 1] = at(e, l) * (ratio + root);
  const second = at(d, l + 1);
  const shift = before - at(d, l);
  for (let i = l + 2; i < n; i++) d[i] = at(d, i) - shift;
  let p = at(d, m);
  let [c, c2, c3, s, s2] = [1, 1, 1, 0, 0];
  const next = at(e, l + 1);
  for (let i = m - 1; i >= l; i--) {
    c3 = c2;
    c2 = c;
    s2 = s;
    const g = c * at(e, i);
    const h = c * p;
    const r = Math.hypot(p, at(e, i));
    e[i + 1] = s * r;
    s = at(e, i) / r;
    c = p / r;
    p = c * at(d, i) - s * g;
    d[i + 1] = h + s * (c * g + s * at(d, i));
    turn(rowAt(v, i), rowAt(v, i + 1), c, s);
  }
  p = (-s * s2 * c3 * next * at(e, l)) / second;
  e[l] = s * p;
  d[l] = c * p;
  return shift;
}

function turn(one: Float64Array, other: Float64Array, cosine: number, sine: number): void {
  for (let k = 0; k < one.length; k++) {
    const [x, y] = [at(one, k), at(other, k)];
    one[k] = cosine * x - sine * y;
    other[k] = sine * x + cosine * y;
  }
}
