import { makePlane, type Plane } from "./picture.ts";

/**
 * Running minimum (sign 1) or maximum (sign -1) over a window of 2r+1 along one line of samples
 * (van Herk 1992, Pattern Recognition Letters 13, 517: three comparisons a sample, whatever the window).
 */
function runningExtreme(
  src: Float32Array,
  dst: Float32Array,
  start: number,
  stride: number,
  count: number,
  r: number,
  sign: 1 | -1,
  forward: Float32Array,
  backward: Float32Array,
): void {
  const w = 2 * r + 1;
  const padded = count + 2 * r;
  for (let i = 0; i < padded; i++) {
    const k = Math.min(Math.max(i - r, 0), count - 1);
    const v = sign * src[start + k * stride];
    forward[i] = i % w === 0 || v < forward[i - 1] ? v : forward[i - 1];
  }
  for (let i = padded - 1; i >= 0; i--) {
    const k = Math.min(Math.max(i - r, 0), count - 1);
    const v = sign * src[start + k * stride];
    backward[i] = i === padded - 1 || i % w === w - 1 || v < backward[i + 1] ? v : backward[i + 1];
  }
  for (let i = 0; i < count; i++) {
    const a = backward[i];
    const b = forward[i + 2 * r];
    dst[start + i * stride] = sign * (a < b ? a : b);
  }
}

function extreme(plane: Plane, rx: number, ry: number, sign: 1 | -1): Plane {
  const { width, height } = plane;
  const size = Math.max(width + 2 * rx, height + 2 * ry);
  const forward = new Float32Array(size);
  const backward = new Float32Array(size);
  const rows = makePlane(width, height);
  for (let y = 0; y < height; y++)
    runningExtreme(plane.data, rows.data, y * width, 1, width, rx, sign, forward, backward);
  const out = makePlane(width, height);
  for (let x = 0; x < width; x++) runningExtreme(rows.data, out.data, x, width, height, ry, sign, forward, backward);
  return out;
}

/**
 * Grey-scale opening with a (2 rx + 1) x (2 ry + 1) rectangle: what is brighter than its surroundings and narrower
 * than the rectangle in either direction goes; edges repeat the border value.
 */
export function opening(plane: Plane, rx: number, ry: number): Plane {
  return extreme(extreme(plane, rx, ry, 1), rx, ry, -1);
}
