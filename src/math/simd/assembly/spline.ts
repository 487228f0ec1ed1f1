/**
 * Values of a spline surface row by row: at each place the four control values of its cell, weighted.
 * @param rows (cells + 3) control values for each row of the raster, doubles
 * @param starts where each of the cells begins, and the last ends, in places of a row, i32
 * @param weights the weight of the first control value at each place of a row, then those of the second, the third, the fourth
 */
export function sampleSpline(
  rows: usize,
  starts: usize,
  weights: usize,
  cells: i32,
  width: i32,
  height: i32,
  out: usize,
): void {
  const line = (<usize>width) << 2;
  for (let y = 0; y < height; y++, out += line, rows += (<usize>(cells + 3)) << 3)
    for (let cell = 0; cell < cells; cell++) {
      const at = starts + (cell << 2);
      sampleCell(rows + (cell << 3), load<i32>(at), load<i32>(at + 4), weights, (<usize>width) << 3, out);
    }
}

function sampleCell(control: usize, from: i32, to: i32, weights: usize, next: usize, out: usize): void {
  const a = load<f64>(control);
  const b = load<f64>(control + 8);
  const c = load<f64>(control + 16);
  const d = load<f64>(control + 24);
  let x = from;
  for (; x + 1 < to; x += 2) {
    const w = weights + (x << 3);
    let sum = f64x2.mul(v128.load(w), f64x2.splat(a));
    sum = f64x2.add(sum, f64x2.mul(v128.load(w + next), f64x2.splat(b)));
    sum = f64x2.add(sum, f64x2.mul(v128.load(w + 2 * next), f64x2.splat(c)));
    sum = f64x2.add(sum, f64x2.mul(v128.load(w + 3 * next), f64x2.splat(d)));
    v128.store64_lane(out + (x << 2), f32x4.demote_f64x2_zero(sum), 0);
  }
  if (x < to) {
    const w = weights + (x << 3);
    const sum = load<f64>(w) * a + load<f64>(w + next) * b + load<f64>(w + 2 * next) * c + load<f64>(w + 3 * next) * d;
    store<f32>(out + (x << 2), <f32>sum);
  }
}
