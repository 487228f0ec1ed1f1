/** Samples on one pixel, in each direction. */
const FINE: i32 = 3;
const RED_BLUE: u32 = 0xff00ff;
const GREEN: u32 = 0xff00;
/** Added to a whole number it leaves that in the last bits of the sum. */
const WHOLE: f64 = 4503599627370496;

/** Adds three samples' codes to a pixel's sums: red, with blue 16 bits higher, then green, 8 bits higher than it is. */
function add(sums: usize, first: i32, second: i32, third: i32): void {
  const a = load<u32>(<usize>first);
  const b = load<u32>(<usize>second);
  const c = load<u32>(<usize>third);
  store<u32>(sums, load<u32>(sums) + (a & RED_BLUE) + (b & RED_BLUE) + (c & RED_BLUE));
  store<u32>(sums, load<u32>(sums, 4) + (a & GREEN) + (b & GREEN) + (c & GREEN), 4);
}

/**
 * Adds the samples of one row to their pixels, two samples at a time.
 * @param v how far down the row lies, in samples
 */
function addRow(pixels: usize, w: i32, place: usize, v: f64, width: i32, sums: usize): void {
  const h0 = f64x2.splat(load<f64>(place));
  const h3 = f64x2.splat(load<f64>(place, 24));
  const h6 = f64x2.splat(load<f64>(place, 48));
  const a = f64x2.splat(load<f64>(place, 8) * v + load<f64>(place, 16));
  const b = f64x2.splat(load<f64>(place, 32) * v + load<f64>(place, 40));
  const c = f64x2.splat(load<f64>(place, 56) * v + load<f64>(place, 64));
  const x0 = f64x2.splat(load<f64>(place, 72));
  const y0 = f64x2.splat(load<f64>(place, 80));
  const lastX = f64x2.splat(load<f64>(place, 88));
  const lastY = f64x2.splat(load<f64>(place, 96));
  const line = f64x2.splat(<f64>(3 * w));
  const first = f64x2.splat(<f64>pixels - load<f64>(place, 72) * 3 - load<f64>(place, 80) * <f64>(3 * w) + WHOLE);
  let u = f64x2.replace_lane(f64x2.splat(0.5), 1, 1.5);
  const next = f64x2.splat(2);
  // two pixels at a time, of a last one without a neighbour both
  for (let x = 0; x < width; x += 2, sums += 16) {
    const p = addresses(h0, h3, h6, a, b, c, x0, y0, lastX, lastY, line, first, u);
    u = f64x2.add(u, next);
    const q = addresses(h0, h3, h6, a, b, c, x0, y0, lastX, lastY, line, first, u);
    u = f64x2.add(u, next);
    const r = addresses(h0, h3, h6, a, b, c, x0, y0, lastX, lastY, line, first, u);
    u = f64x2.add(u, next);
    add(sums, i32x4.extract_lane(p, 0), i32x4.extract_lane(p, 2), i32x4.extract_lane(q, 0));
    add(sums + 8, i32x4.extract_lane(q, 2), i32x4.extract_lane(r, 0), i32x4.extract_lane(r, 2));
  }
}

/** Where the codes of two samples stand, `u` from the left: whole numbers in the lower halves of two doubles. */
function addresses(
  h0: v128,
  h3: v128,
  h6: v128,
  a: v128,
  b: v128,
  c: v128,
  x0: v128,
  y0: v128,
  lastX: v128,
  lastY: v128,
  line: v128,
  first: v128,
  u: v128,
): v128 {
  const depth = f64x2.div(f64x2.splat(1), f64x2.add(f64x2.mul(h6, u), c));
  const x = f64x2.trunc(f64x2.mul(f64x2.add(f64x2.mul(h0, u), a), depth));
  const y = f64x2.trunc(f64x2.mul(f64x2.add(f64x2.mul(h3, u), b), depth));
  const column = f64x2.pmax(x0, f64x2.pmin(x, lastX));
  const row = f64x2.pmax(y0, f64x2.pmin(y, lastY));
  return f64x2.add(f64x2.add(f64x2.mul(row, line), f64x2.mul(column, f64x2.splat(3))), first);
}

function putMeans(sums: usize, width: i32, size: usize, out: usize): void {
  const share: f64 = 1 / <f64>(FINE * FINE);
  for (let x = 0; x < width; x++, sums += 8, out += 4) {
    const redBlue = load<u32>(sums);
    store<f32>(out, <f32>(<f64>(redBlue & 0xffff) * share));
    store<f32>(out + size, <f32>(<f64>(load<u32>(sums, 4) >> 8) * share));
    store<f32>(out + 2 * size, <f32>(<f64>(redBlue >> 16) * share));
  }
}

/**
 * A small patch: the mean code of 3 x 3 samples on each pixel, each that of the pixel it lies in.
 * @param pixels `w` a row; 8-bit r, g, b; a byte behind the last is read
 * @param place the nine values of the homography from samples of the patch to the picture, then there the column and the row of the first
 *   pixel and of the last: doubles
 * @param out planes of r, g and b, single precision
 * @param sums room for two whole numbers for each pixel of a row, and for one more
 */
export function sampleSmall(
  pixels: usize,
  w: i32,
  place: usize,
  width: i32,
  height: i32,
  out: usize,
  sums: usize,
): void {
  const size = (<usize>(width * height)) << 2;
  for (let y = 0; y < height; y++) {
    memory.fill(sums, 0, (<usize>(width + 1)) << 3);
    for (let j = 0; j < FINE; j++) addRow(pixels, w, place, <f64>(y * FINE + j) + 0.5, width, sums);
    putMeans(sums, width, size, out + ((<usize>(y * width)) << 2));
  }
}
