/** A number cut off below 0 and above `limit`. */
export function cut(v: number, limit: number): number {
  return Math.max(0, Math.min(limit, v));
}

/** The greatest of numbers that are no less than 0; 0 of none. */
export function most(values: readonly number[]): number {
  return values.reduce((a, b) => Math.max(a, b), 0);
}
