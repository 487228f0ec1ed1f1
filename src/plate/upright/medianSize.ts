import { selectAt } from "../../math/select.ts";
import { workingRoom } from "../../raster/workingRoom.ts";

/** The bits of a real number that sort it into classes: sign, exponent and 6 bits of the fraction. */
const SHIFT = 17;
const CLASSES = 1 << (31 - SHIFT);

const room = workingRoom();
const counts = new Uint32Array(CLASSES);

/**
 * Median of the sizes of `a - b`, every `step`th value. The bits of positive real numbers sort as the numbers do: those of the
 * class that holds the median are found by counting, and it among them by selection.
 */
export function medianSize(a: Float32Array, b: Float32Array, step: number): number {
  const n = Math.ceil(a.length / step);
  const sizes = room(n);
  sizesOf(a, b, step, sizes);
  const bits = new Uint32Array(sizes.buffer, sizes.byteOffset, n);
  counts.fill(0);
  countClasses(bits);
  const middle = n >> 1;
  let below = 0;
  let at = 0;
  while (below + counts[at] <= middle) below += counts[at++];
  const alike = new Float32Array(counts[at]);
  for (let i = 0, k = 0; i < n; i++) if (bits[i] >>> SHIFT === at) alike[k++] = sizes[i];
  return selectAt(alike, middle - below);
}

// Functions of their own: the engine compiles those early.

function sizesOf(a: Float32Array, b: Float32Array, step: number, sizes: Float32Array): void {
  for (let i = 0, k = 0; i < sizes.length; i++, k += step) sizes[i] = Math.abs(a[k] - b[k]);
}

function countClasses(bits: Uint32Array): void {
  for (let i = 0; i < bits.length; i++) counts[bits[i] >>> SHIFT]++;
}
