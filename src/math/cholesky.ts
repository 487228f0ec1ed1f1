/**
 * Solves A x = b for several right-hand sides, A symmetric and positive definite (Cholesky, A = L Lᵀ).
 * @param a row-major n x n matrix; its lower triangle is overwritten with L
 * @param rhs right-hand sides, each of length n, overwritten with the solutions
 * @returns false where A is not positive definite (the right-hand sides are then undefined)
 */
export function solvePositive(a: Float64Array, n: number, rhs: readonly Float64Array[]): boolean {
  for (let j = 0; j < n; j++) {
    const rowJ = j * n;
    let d = a[rowJ + j];
    for (let k = 0; k < j; k++) d -= a[rowJ + k] * a[rowJ + k];
    if (!(d > 0)) return false;
    const l = Math.sqrt(d);
    a[rowJ + j] = l;
    for (let i = j + 1; i < n; i++) {
      const rowI = i * n;
      let s = a[rowI + j];
      for (let k = 0; k < j; k++) s -= a[rowI + k] * a[rowJ + k];
      a[rowI + j] = s / l;
    }
  }
  for (const b of rhs) {
    for (let i = 0; i < n; i++) {
      let s = b[i];
      for (let k = 0; k < i; k++) s -= a[i * n + k] * b[k];
      b[i] = s / a[i * n + i];
    }
    for (let i = n - 1; i >= 0; i--) {
      let s = b[i];
      for (let k = i + 1; k < n; k++) s -= a[k * n + i] * b[k];
      b[i] = s / a[i * n + i];
    }
  }
  return true;
}
