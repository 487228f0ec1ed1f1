/**
 * Minimum (sign 1) or maximum (sign -1) over `size` samples from each sample on, `stride` apart, by doubling the
 * window: a few passes over whole rows, whatever the size. Samples beyond `end` repeat nothing: they do not count.
 */
function forwardExtreme(data: Float32Array, size: number, stride: number, rowLength: number, sign: 1 | -1): void {
  const n = data.length;
  let have = 1;
  while (have < size) {
    const step = Math.min(have, size - have);
    const hop = step * stride;
    if (stride === 1) {
      for (let o = 0; o < n; o += rowLength) extremeInPlace(data, o, o + rowLength - hop, hop, sign);
    } else extremeInPlace(data, 0, n - hop, hop, sign);
    have += step;
  }
}

/** The comparison chooses an address rather than a way: over noise a processor would guess every other way wrong. */
function extremeInPlace(data: Float32Array, from: number, to: number, hop: number, sign: 1 | -1): void {
  if (sign === 1) {
    for (let i = from; i < to; i++) data[i] = data[i + Math.imul(hop, Number(data[i + hop] < data[i]))];
  } else for (let i = from; i < to; i++) data[i] = data[i + Math.imul(hop, Number(data[i + hop] > data[i]))];
}

/** Turns a plane by 180 degrees in place: a backward window is a forward one on the turned plane. */
function turn(data: Float32Array): void {
  data.reverse();
}

/**
 * Grey-scale opening with a rectangle of (2 rx + 1) x (2 ry + 1) pixels, in place: what is brighter than its surroundings
 * and narrower than the rectangle in either direction goes. Erosion looks forward and dilation backward over the same
 * window, which is the opening with a centred one (Serra 1982); windows are cut off at the border.
 * @param data rows of `width` values
 */
export function openInPlace(data: Float32Array, width: number, rx: number, ry: number): void {
  forwardExtreme(data, 2 * rx + 1, 1, width, 1);
  forwardExtreme(data, 2 * ry + 1, width, width, 1);
  turn(data);
  forwardExtreme(data, 2 * rx + 1, 1, width, -1);
  forwardExtreme(data, 2 * ry + 1, width, width, -1);
  turn(data);
}
