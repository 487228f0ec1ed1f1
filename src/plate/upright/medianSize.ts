import { singleRoom } from "../../math/room.ts";
import { selectAt } from "../../math/select.ts";

const room = singleRoom();

/** Median of the sizes of `a - b`, every `step`th value. */
export function medianSize(a: Float32Array, b: Float32Array, step: number): number {
  const sizes = room(Math.ceil(a.length / step));
  sizesOf(a, b, step, sizes);
  return selectAt(sizes, sizes.length >> 1);
}

/** A function of its own: the engine compiles it early. */
function sizesOf(a: Float32Array, b: Float32Array, step: number, sizes: Float32Array): void {
  for (let i = 0, k = 0; i < sizes.length; i++, k += step) sizes[i] = Math.abs(a[k] - b[k]);
}
