import { selectAt } from "./select.ts";

/** Sizes fall into bins by their sign, exponent and first four bits after the leading one: 16 an octave. */
const BIN_BITS = 19;
const counts = new Int32Array(1 << (32 - BIN_BITS - 1));
let inBin = new Float32Array(0);

/**
 * The value that would stand at place `k` (0-based) if `sizes` were sorted. As `selectAt`, for many numbers none of which is less than
 * 0, which it leaves as they are: it counts them by what they begin with, then looks among those alone that begin alike. A processor
 * guesses nothing wrong meanwhile, so that it takes a quarter of the time.
 */
export function selectSize(sizes: Float32Array, k: number): number {
  const bits = new Uint32Array(sizes.buffer, sizes.byteOffset, sizes.length);
  counts.fill(0);
  countBins(bits);
  let bin = 0;
  let below = 0;
  while (below + counts[bin] <= k) below += counts[bin++];
  // Room for one more than there are: each is put where the next one goes, alike or not.
  if (inBin.length <= sizes.length) inBin = new Float32Array(sizes.length + 1);
  const count = gatherBin(sizes, bits, bin, inBin);
  return selectAt(inBin.subarray(0, count), k - below);
}

function countBins(bits: Uint32Array): void {
  for (let i = 0; i < bits.length; i++) counts[bits[i] >>> BIN_BITS]++;
}

function gatherBin(sizes: Float32Array, bits: Uint32Array, bin: number, out: Float32Array): number {
  let n = 0;
  for (let i = 0; i < sizes.length; i++) {
    out[n] = sizes[i];
    n += Number(bits[i] >>> BIN_BITS === bin);
  }
  return n;
}
