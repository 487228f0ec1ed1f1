/** Adds `weight` times four doubles at `from` to those at `to`. */
function addFour(to: usize, from: usize, weight: v128): void {
  v128.store(to, f64x2.add(v128.load(to), f64x2.mul(weight, v128.load(from))));
  v128.store(to, f64x2.add(v128.load(to, 16), f64x2.mul(weight, v128.load(from, 16))), 16);
}

/** The share of one cell in the normal matrix: products of its 16 weights `b`, times its own. What lies above the diagonal is not for use. */
function addCell(matrix: usize, line: usize, b: usize, weight: f64, nx: i32): void {
  const next = (<usize>nx) << 3;
  for (let p = 0; p < 16; p++) {
    const share = f64x2.splat(weight * load<f64>(b + (p << 3)));
    const group = <usize>(p >> 2);
    let to = matrix + (group * <usize>nx + <usize>(p & 3)) * line;
    for (let from = b; from <= b + (group << 5); from += 32, to += next) addFour(to, from, share);
  }
}

/** The share of one cell in a right-hand side. */
function addValue(side: usize, b: usize, weight: f64, value: f64, nx: i32): void {
  for (let p = 0; p < 16; p++) {
    const to = side + (((p >> 2) * nx + (p & 3)) << 3);
    store<f64>(to, load<f64>(to) + weight * load<f64>(b + (p << 3)) * value);
  }
}

/**
 * Normal equations of tensor products of four weights down and four across, over a grid of cells of given weight.
 * @param down for each row of cells its four weights (doubles), `firstsDown` the first of its control rows (i32); `across` and `firstsAcross` the
 *   same for columns
 * @param values `count` values of each cell, one grid after the other
 * @param matrix (nx x ny)^2 doubles, then `count` right-hand sides: added to; of the matrix the lower triangle
 * @param b room for 16 doubles
 */
export function addNormals(
  down: usize,
  firstsDown: usize,
  across: usize,
  firstsAcross: usize,
  weights: usize,
  values: usize,
  count: i32,
  gridW: i32,
  gridH: i32,
  nx: i32,
  n: i32,
  matrix: usize,
  b: usize,
): void {
  const line = (<usize>n) << 3;
  const grid = (<usize>(gridW * gridH)) << 3;
  for (let y = 0; y < gridH; y++)
    for (let x = 0; x < gridW; x++, weights += 8, values += 8) {
      const weight = load<f64>(weights);
      if (weight <= 0) continue;
      for (let k = 0; k < 16; k++)
        store<f64>(
          b + (k << 3),
          load<f64>(down + (((y << 2) + (k >> 2)) << 3)) * load<f64>(across + (((x << 2) + (k & 3)) << 3)),
        );
      const first = <usize>(load<i32>(firstsDown + (y << 2)) * nx + load<i32>(firstsAcross + (x << 2)));
      addCell(matrix + first * (line + 8), line, b, weight, nx);
      for (let v = 0; v < count; v++) {
        const side = matrix + <usize>n * line + <usize>v * line;
        addValue(side + (first << 3), b, weight, load<f64>(values + <usize>v * grid), nx);
      }
    }
}
