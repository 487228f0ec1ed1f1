import { makePlane, type Plane } from "./picture.ts";
import { workingRoom } from "./workingRoom.ts";

/** Running mean of width 2r+1 along rows; edges repeat the border value. */
function boxRows(src: Float32Array, dst: Float32Array, width: number, height: number, r: number): void {
  const norm = 1 / (2 * r + 1);
  for (let y = 0; y < height; y++) {
    const o = y * width;
    const first = src[o];
    const last = src[o + width - 1];
    let sum = first * r;
    for (let x = 0; x < r; x++) sum += src[o + Math.min(x, width - 1)];
    for (let x = 0; x < width; x++) {
      const incoming = x + r < width ? src[o + x + r] : last;
      sum += incoming;
      dst[o + x] = sum * norm;
      sum -= x - r >= 0 ? src[o + x - r] : first;
    }
  }
}

/** Running mean of height 2r+1 along columns, row by row for the cache's sake; edges repeat the border value. */
function boxColumns(src: Float32Array, dst: Float32Array, width: number, height: number, r: number): void {
  const norm = 1 / (2 * r + 1);
  const sums = new Float64Array(width);
  const at = (y: number) => Math.min(Math.max(y, 0), height - 1) * width;
  for (let k = -r - 1; k < r; k++) {
    const o = at(k);
    for (let x = 0; x < width; x++) sums[x] += src[o + x];
  }
  for (let y = 0; y < height; y++) {
    const incoming = at(y + r);
    const outgoing = at(y - r - 1);
    const o = y * width;
    for (let x = 0; x < width; x++) {
      sums[x] += src[incoming + x] - src[outgoing + x];
      dst[o + x] = sums[x] * norm;
    }
  }
}

const rowsDone = workingRoom();

/** Mean over a window of (2 rx + 1) x (2 ry + 1) pixels; edges repeat the border value. */
export function boxBlur(plane: Plane, rx: number, ry: number): Plane {
  const out = makePlane(plane.width, plane.height);
  boxBlurInto(plane, rx, ry, out.data);
  return out;
}

/** The same into `out`, which is none of the plane's own data. */
export function boxBlurInto({ width, height, data }: Plane, rx: number, ry: number, out: Float32Array): void {
  const between = ry > 0 ? rowsDone(data.length) : out;
  if (rx > 0) boxRows(data, between, width, height, rx);
  else between.set(data);
  if (ry > 0) boxColumns(between, out, width, height, ry);
}
