import { doubleRoom } from "./room.ts";

const paddedRoom = doubleRoom();

/** Sum of a kernel of odd length laid over each value and its neighbours; beyond the ends the last value goes on. */
export function convolved(values: ArrayLike<number>, kernel: ArrayLike<number>): Float64Array {
  const reach = kernel.length >> 1;
  const n = values.length;
  const out = new Float64Array(n);
  // The ends go on in a copy, so that no place needs to be asked whether it is one of them.
  const padded = paddedRoom(n + 2 * reach);
  padded.fill(values[0], 0, reach);
  padded.set(values, reach);
  padded.fill(values[n - 1], n + reach);
  const weights = kernel instanceof Float64Array ? kernel : Float64Array.from(kernel);
  // Each sum waits for the one before it: four places at a time keep the processor busy meanwhile.
  const together = n - (n % 4);
  for (let i = 0; i < together; i += 4) layAtFour(weights, padded, i, out);
  for (let i = together; i < n; i++) out[i] = laidAt(weights, padded, i);
  return out;
}

function layAtFour(weights: Float64Array, values: Float64Array, at: number, out: Float64Array): void {
  let s0 = 0;
  let s1 = 0;
  let s2 = 0;
  let s3 = 0;
  for (let k = 0, i = at; k < weights.length; k++, i++) {
    const w = weights[k];
    s0 += w * values[i];
    s1 += w * values[i + 1];
    s2 += w * values[i + 2];
    s3 += w * values[i + 3];
  }
  out[at] = s0;
  out[at + 1] = s1;
  out[at + 2] = s2;
  out[at + 3] = s3;
}

function laidAt(weights: Float64Array, values: Float64Array, at: number): number {
  let sum = 0;
  for (let k = 0; k < weights.length; k++) sum += weights[k] * values[at + k];
  return sum;
}
