/** Means over blocks of `factor` x `factor` values of rows of `across`; a rest that fills no block is left out. */
export function averageValues(src: usize, across: i32, factor: i32, width: i32, height: i32, dst: usize): void {
  const norm: f64 = 1 / <f64>(factor * factor);
  const line = (<usize>across) << 2;
  for (let y = 0; y < height; y++) {
    let block = src + <usize>(y * factor) * line;
    for (let x = 0; x < width; x++, block += (<usize>factor) << 2, dst += 4) {
      let mean: f32 = 0;
      for (let dy = 0, row = block; dy < factor; dy++, row += line) mean = <f32>(<f64>mean + rowSum(row, factor));
      store<f32>(dst, <f32>(<f64>mean * norm));
    }
  }
}

function rowSum(p: usize, count: i32): f64 {
  let sum: f64 = 0;
  for (let k = 0; k < count; k++) sum += <f64>load<f32>(p + (k << 2));
  return sum;
}
