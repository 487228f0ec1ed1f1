import { memoryFor, ROOM, vectorCode } from "../math/simd/index.ts";
import { makePlane, type Plane } from "./picture.ts";

/** Mean over a window of (2 rx + 1) x (2 ry + 1) pixels; edges repeat the border value. */
export function boxBlur(plane: Plane, rx: number, ry: number): Plane {
  const out = makePlane(plane.width, plane.height);
  boxBlurInto(plane, rx, ry, out.data);
  return out;
}

/** The same into `out`, as large. */
export function boxBlurInto({ width, height, data }: Plane, rx: number, ry: number, out: Float32Array): void {
  const bytes = 4 * data.length;
  const [once, twice] = [ROOM + bytes, ROOM + 2 * bytes];
  const sums = 8 * Math.ceil((ROOM + 3 * bytes) / 8);
  const memory = memoryFor(sums + 8 * width - ROOM);
  const code = vectorCode();
  memory.set(data, ROOM / 4);
  let done = ROOM;
  if (rx > 0) {
    code.boxRows(done, once, width, height, rx);
    done = once;
  }
  if (ry > 0) {
    code.boxColumns(done, twice, width, height, ry, sums);
    done = twice;
  }
  out.set(memory.subarray(done / 4, done / 4 + data.length));
}
