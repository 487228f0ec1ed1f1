/** Right ones, invented ones and missed ones. */
export interface Tally {
  readonly hits: number;
  readonly invented: number;
  readonly missed: number;
}

export function addTallies(tallies: readonly Tally[]): Tally {
  return tallies.reduce(
    (sum, t) => ({ hits: sum.hits + t.hits, invented: sum.invented + t.invented, missed: sum.missed + t.missed }),
    { hits: 0, invented: 0, missed: 0 },
  );
}

/** hits / (hits + invented); 1 where nothing was said. */
export function precision({ hits, invented }: Tally): number {
  return hits + invented === 0 ? 1 : hits / (hits + invented);
}

/** hits / (hits + missed); 1 where nothing was to be found. */
export function recall({ hits, missed }: Tally): number {
  return hits + missed === 0 ? 1 : hits / (hits + missed);
}

/** Harmonic mean of precision and recall. Checked against scikit-learn's `f1_score`. */
export function f1(tally: Tally): number {
  const whole = 2 * tally.hits + tally.invented + tally.missed;
  return whole === 0 ? 1 : (2 * tally.hits) / whole;
}

export function mean(values: readonly number[]): number {
  return values.length ? values.reduce((a, b) => a + b, 0) / values.length : Number.NaN;
}

export function median(values: readonly number[]): number {
  if (!values.length) return Number.NaN;
  const sorted = [...values].sort((a, b) => a - b);
  const mid = sorted.length >> 1;
  return sorted.length % 2 ? sorted[mid] : (sorted[mid - 1] + sorted[mid]) / 2;
}
