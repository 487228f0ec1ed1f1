import { wholeRoom } from "./room.ts";

/**
 * Solves A x = b for several right-hand sides, A symmetric and positive definite (Cholesky, A = L Lᵀ). What stands before
 * the first value of a row of A is nothing in L too, and is passed over (the envelope: George and Liu, Computer Solution
 * of Large Sparse Positive Definite Systems, 1981, from memory).
 * @param a row-major n x n matrix; its lower triangle is overwritten with L
 * @param rhs right-hand sides, each of length n, overwritten with the solutions
 * @returns false where A is not positive definite (the right-hand sides are then undefined)
 */
export function solvePositive(a: Float64Array, n: number, rhs: readonly Float64Array[]): boolean {
  const first = firstOfRows(a, n);
  for (let i = 0; i < n; i++) {
    const rowI = i * n;
    const from = first[i];
    for (let j = from; j < i; j++) {
      const rowJ = j * n;
      let s = a[rowI + j];
      for (let k = Math.max(from, first[j]); k < j; k++) s -= a[rowI + k] * a[rowJ + k];
      a[rowI + j] = s / a[rowJ + j];
    }
    let d = a[rowI + i];
    for (let k = from; k < i; k++) d -= a[rowI + k] * a[rowI + k];
    if (!(d > 0)) return false;
    a[rowI + i] = Math.sqrt(d);
  }
  for (const b of rhs) {
    for (let i = 0; i < n; i++) {
      let s = b[i];
      for (let k = first[i]; k < i; k++) s -= a[i * n + k] * b[k];
      b[i] = s / a[i * n + i];
    }
    for (let i = n - 1; i >= 0; i--) {
      let s = b[i];
      for (let k = i + 1; k < n; k++) if (first[k] <= i) s -= a[k * n + i] * b[k];
      b[i] = s / a[i * n + i];
    }
  }
  return true;
}

const firstRoom = wholeRoom();

/** Column of the first value of each row of the lower triangle. */
function firstOfRows(a: Float64Array, n: number): Int32Array {
  const first = firstRoom(n);
  for (let i = 0; i < n; i++) {
    let k = 0;
    while (k < i && a[i * n + k] === 0) k++;
    first[i] = k;
  }
  return first;
}
