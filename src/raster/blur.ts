import { makePlane, type Plane } from "./picture.ts";
import { workingRoom } from "./workingRoom.ts";

/** Running mean of width 2r+1 along rows; edges repeat the border value. */
function boxRows(src: Float32Array, dst: Float32Array, width: number, height: number, r: number): void {
  // Each sum waits for the one before it: four rows at a time keep the processor busy meanwhile.
  const together = height - (height % 4);
  for (let y = 0; y < together; y += 4) boxFourRows(src, dst, y * width, width, r);
  for (let y = together; y < height; y++) boxRow(src, dst, y * width, width, r);
}

/** Sum of the window of width 2r+1 before a row's first pixel, less its last value. */
function sumBefore(src: Float32Array, o: number, width: number, r: number): number {
  let sum = src[o] * r;
  for (let x = 0; x < r; x++) sum += src[o + Math.min(x, width - 1)];
  return sum;
}

function boxRow(src: Float32Array, dst: Float32Array, o: number, width: number, r: number): void {
  const norm = 1 / (2 * r + 1);
  let sum = sumBefore(src, o, width, r);
  for (let x = 0; x < width; x++) {
    sum += src[o + Math.min(x + r, width - 1)];
    dst[o + x] = sum * norm;
    sum -= src[o + Math.max(x - r, 0)];
  }
}

function boxFourRows(src: Float32Array, dst: Float32Array, o: number, width: number, r: number): void {
  const norm = 1 / (2 * r + 1);
  const [o1, o2, o3] = [o + width, o + 2 * width, o + 3 * width];
  let sum0 = sumBefore(src, o, width, r);
  let sum1 = sumBefore(src, o1, width, r);
  let sum2 = sumBefore(src, o2, width, r);
  let sum3 = sumBefore(src, o3, width, r);
  for (let x = 0; x < width; x++) {
    const incoming = Math.min(x + r, width - 1);
    const outgoing = Math.max(x - r, 0);
    sum0 += src[o + incoming];
    sum1 += src[o1 + incoming];
    sum2 += src[o2 + incoming];
    sum3 += src[o3 + incoming];
    dst[o + x] = sum0 * norm;
    dst[o1 + x] = sum1 * norm;
    dst[o2 + x] = sum2 * norm;
    dst[o3 + x] = sum3 * norm;
    sum0 -= src[o + outgoing];
    sum1 -= src[o1 + outgoing];
    sum2 -= src[o2 + outgoing];
    sum3 -= src[o3 + outgoing];
  }
}

/** Running mean of height 2r+1 along columns, row by row for the cache's sake; edges repeat the border value. */
function boxColumns(src: Float32Array, dst: Float32Array, width: number, height: number, r: number): void {
  const sums = new Float64Array(width);
  for (let k = -r - 1; k < r; k++) addRow(src, rowAt(k, width, height), sums);
  for (let y = 0; y < height; y++)
    nextRow(src, rowAt(y + r, width, height), rowAt(y - r - 1, width, height), sums, dst, y * width, 1 / (2 * r + 1));
}

/** Where row `y` begins, or the border row beyond which it lies. */
function rowAt(y: number, width: number, height: number): number {
  return Math.min(Math.max(y, 0), height - 1) * width;
}

// Functions of their own for a row each: the engine compiles those early.

function addRow(src: Float32Array, o: number, sums: Float64Array): void {
  for (let x = 0; x < sums.length; x++) sums[x] += src[o + x];
}

function nextRow(
  src: Float32Array,
  incoming: number,
  outgoing: number,
  sums: Float64Array,
  dst: Float32Array,
  o: number,
  norm: number,
): void {
  for (let x = 0; x < sums.length; x++) {
    const sum = sums[x] + (src[incoming + x] - src[outgoing + x]);
    sums[x] = sum;
    dst[o + x] = sum * norm;
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
