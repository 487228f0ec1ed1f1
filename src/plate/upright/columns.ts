/** Ways from lane to lane that people choose, in parts of the plate's width divided by the number of lanes. */
export const PITCHES = [0.74, 0.77, 0.8, 0.83, 0.86, 0.89, 0.92, 0.95, 0.98];

/** Sums of values from one place to another; what lies outside counts as nothing. */
export function sumsOf(values: Float64Array): (from: number, to: number) => number {
  const n = values.length;
  const sums = new Float64Array(n + 1);
  for (let i = 0; i < n; i++) sums[i + 1] = sums[i] + values[i];
  return (from, to) => sums[within(n, to)] - sums[within(n, from)];
}

function within(n: number, x: number): number {
  return Math.max(0, Math.min(n, Math.round(x)));
}
