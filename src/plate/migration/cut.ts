/** A number cut off below 0 and above `limit`. */
export function cut(v: number, limit: number): number {
  return Math.max(0, Math.min(limit, v));
}
