/** Middle value; of an even number the upper of the two. NaN where there is none. */
export function upperMedian(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[values.length >> 1] ?? Number.NaN;
}
