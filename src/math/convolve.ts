/** Sum of a kernel of odd length laid over each value and its neighbours; beyond the ends the last value goes on. */
export function convolved(values: ArrayLike<number>, kernel: ArrayLike<number>): Float64Array {
  const reach = kernel.length >> 1;
  const n = values.length;
  const out = new Float64Array(n);
  // The ends go on in a copy, so that no place needs to be asked whether it is one of them.
  const padded = new Float64Array(n + 2 * reach);
  for (let i = 0; i < padded.length; i++) padded[i] = values[Math.min(n - 1, Math.max(0, i - reach))];
  const weights = kernel instanceof Float64Array ? kernel : Float64Array.from(kernel);
  for (let i = 0; i < n; i++) out[i] = laidAt(weights, padded, i);
  return out;
}

function laidAt(weights: Float64Array, values: Float64Array, at: number): number {
  let sum = 0;
  for (let k = 0; k < weights.length; k++) sum += weights[k] * values[at + k];
  return sum;
}
