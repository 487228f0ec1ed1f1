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
  const norm = 1 / (2 * r + 1);
  const at = (y: number) => Math.min(Math.max(y, 0), height - 1) * width;
  const sums = new Float64Array(width);
  for (let k = -r - 1; k < r; k++) addRow(src, at(k), sums);
  // Four rows at a time: the sums are read and kept once for all.
  const together = height - (height % 4);
  const incoming = new Int32Array(4);
  const outgoing = new Int32Array(4);
  for (let y = 0; y < together; y += 4) {
    for (let k = 0; k < 4; k++) {
      incoming[k] = at(y + k + r);
      outgoing[k] = at(y + k - r - 1);
    }
    nextFourRows(src, incoming, outgoing, sums, dst, y * width, norm);
  }
  for (let y = together; y < height; y++) nextRow(src, at(y + r), at(y - r - 1), sums, dst, y * width, norm);
}

// Functions of their own for a row each, or four: the engine compiles those early.

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

/** The same for four rows, the first of which begins at `o`, each with where the row begins that comes in and the one that goes out. */
function nextFourRows(
  src: Float32Array,
  incoming: Int32Array,
  outgoing: Int32Array,
  sums: Float64Array,
  dst: Float32Array,
  o: number,
  norm: number,
): void {
  const [in0, in1, in2, in3] = incoming;
  const [out0, out1, out2, out3] = outgoing;
  const width = sums.length;
  const [o1, o2, o3] = [o + width, o + 2 * width, o + 3 * width];
  for (let x = 0; x < width; x++) {
    const sum0 = sums[x] + (src[in0 + x] - src[out0 + x]);
    const sum1 = sum0 + (src[in1 + x] - src[out1 + x]);
    const sum2 = sum1 + (src[in2 + x] - src[out2 + x]);
    const sum3 = sum2 + (src[in3 + x] - src[out3 + x]);
    sums[x] = sum3;
    dst[o + x] = sum0 * norm;
    dst[o1 + x] = sum1 * norm;
    dst[o2 + x] = sum2 * norm;
    dst[o3 + x] = sum3 * norm;
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
