/** The deepest dip of a row of numbers below what stands higher on both sides. */
export interface Valley {
  /** Position of the lowest point. */
  readonly at: number;
  /** How far it lies below the lower of the two highest points beside it; 0 for a single-peaked row. */
  readonly depth: number;
  /** The next deepest dip anywhere. */
  readonly second: number;
}

/** Departure of a row from having a single peak. */
export function deepestValley(row: ArrayLike<number>): Valley {
  const n = row.length;
  const after = new Float64Array(n + 1).fill(Number.NEGATIVE_INFINITY);
  for (let i = n - 1; i >= 0; i--) after[i] = Math.max(after[i + 1], row[i]);
  let before = Number.NEGATIVE_INFINITY;
  let at = 0;
  let depth = 0;
  let second = 0;
  for (let i = 0; i < n; i++) {
    const dip = Math.min(before, after[i + 1]) - row[i];
    if (dip > depth) {
      second = depth;
      depth = dip;
      at = i;
    } else if (dip > second) second = dip;
    before = Math.max(before, row[i]);
  }
  return { at, depth, second };
}
