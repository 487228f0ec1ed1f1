import { memoryFor, ROOM, vectorCode } from "../math/simd/index.ts";

/**
 * Grey-scale opening with a rectangle of (2 rx + 1) x (2 ry + 1) pixels, in place: what is brighter than its surroundings
 * and narrower than the rectangle in either direction goes. Erosion looks forward and dilation backward over the same
 * window, which is the opening with a centred one (Serra 1982); windows are cut off at the border.
 * @param data rows of `width` values
 */
export function openInPlace(data: Float32Array, width: number, rx: number, ry: number): void {
  const memory = memoryFor(4 * data.length);
  memory.set(data, ROOM / 4);
  vectorCode().openRectangle(ROOM, width, data.length / width, 2 * rx + 1, 2 * ry + 1);
  data.set(memory.subarray(ROOM / 4, ROOM / 4 + data.length));
}
