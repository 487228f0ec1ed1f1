/** Two values of one row as double precision. */
function twoAt(p: usize): v128 {
  return f64x2.promote_low_f32x4(v128.load64_zero(p));
}

/** A value of a row, and that below it, which lies `line` bytes further on. */
function pairAt(p: usize, line: usize): v128 {
  return f64x2.promote_low_f32x4(v128.load32_lane(p + line, v128.load32_zero(p), 1));
}

function putPair(p: usize, line: usize, values: v128): void {
  const single = f32x4.demote_f64x2_zero(values);
  v128.store32_lane(p, single, 0);
  v128.store32_lane(p + line, single, 1);
}

/** Sum of the window of width 2r+1 before a row's first value, less its last one. */
function sumBefore(p: usize, width: i32, r: i32): f64 {
  let sum = <f64>load<f32>(p) * <f64>r;
  for (let x = 0; x < r; x++) sum += <f64>load<f32>(p + (min(x, width - 1) << 2));
  return sum;
}

function sumsBefore(p: usize, line: usize, width: i32, r: i32): v128 {
  return f64x2.replace_lane(f64x2.splat(sumBefore(p, width, r)), 1, sumBefore(p + line, width, r));
}

/** Running means of width 2r+1 of eight rows: each sum waits for the one before it, four pairs keep the processor busy meanwhile. */
function eightRows(src: usize, dst: usize, width: i32, r: i32, norm: v128): void {
  const line = (<usize>width) << 2;
  let a = sumsBefore(src, line, width, r);
  let b = sumsBefore(src + 2 * line, line, width, r);
  let c = sumsBefore(src + 4 * line, line, width, r);
  let d = sumsBefore(src + 6 * line, line, width, r);
  for (let x = 0; x < width; x++) {
    const incoming = src + (min(x + r, width - 1) << 2);
    const outgoing = src + (max(x - r, 0) << 2);
    const out = dst + (x << 2);
    a = f64x2.add(a, pairAt(incoming, line));
    b = f64x2.add(b, pairAt(incoming + 2 * line, line));
    c = f64x2.add(c, pairAt(incoming + 4 * line, line));
    d = f64x2.add(d, pairAt(incoming + 6 * line, line));
    putPair(out, line, f64x2.mul(a, norm));
    putPair(out + 2 * line, line, f64x2.mul(b, norm));
    putPair(out + 4 * line, line, f64x2.mul(c, norm));
    putPair(out + 6 * line, line, f64x2.mul(d, norm));
    a = f64x2.sub(a, pairAt(outgoing, line));
    b = f64x2.sub(b, pairAt(outgoing + 2 * line, line));
    c = f64x2.sub(c, pairAt(outgoing + 4 * line, line));
    d = f64x2.sub(d, pairAt(outgoing + 6 * line, line));
  }
}

function oneRow(src: usize, dst: usize, width: i32, r: i32, norm: f64): void {
  let sum = sumBefore(src, width, r);
  for (let x = 0; x < width; x++) {
    sum += <f64>load<f32>(src + (min(x + r, width - 1) << 2));
    store<f32>(dst + (x << 2), <f32>(sum * norm));
    sum -= <f64>load<f32>(src + (max(x - r, 0) << 2));
  }
}

/** Running mean of width 2r+1 along rows; edges repeat the border value. */
export function boxRows(src: usize, dst: usize, width: i32, height: i32, r: i32): void {
  const norm = 1.0 / <f64>(2 * r + 1);
  const norms = f64x2.splat(norm);
  let o: usize = 0;
  let y = 0;
  for (; y + 7 < height; y += 8, o += (<usize>width) << 5) eightRows(src + o, dst + o, width, r, norms);
  for (; y < height; y++, o += (<usize>width) << 2) oneRow(src + o, dst + o, width, r, norm);
}

/** The sums below one row of values: what comes in is added and what goes out taken off, and the means are put down. */
function nextRow(incoming: usize, outgoing: usize, sums: usize, dst: usize, width: i32, norm: f64): void {
  const norms = f64x2.splat(norm);
  let x = 0;
  for (; x + 1 < width; x += 2) {
    const at = sums + (x << 3);
    const sum = f64x2.add(v128.load(at), f64x2.sub(twoAt(incoming + (x << 2)), twoAt(outgoing + (x << 2))));
    v128.store(at, sum);
    v128.store64_lane(dst + (x << 2), f32x4.demote_f64x2_zero(f64x2.mul(sum, norms)), 0);
  }
  if (x < width) {
    const at = sums + (x << 3);
    const sum = load<f64>(at) + (<f64>load<f32>(incoming + (x << 2)) - <f64>load<f32>(outgoing + (x << 2)));
    store<f64>(at, sum);
    store<f32>(dst + (x << 2), <f32>(sum * norm));
  }
}

/** Running mean of height 2r+1 along columns, row by row; edges repeat the border value. `sums` is room for `width` doubles. */
export function boxColumns(src: usize, dst: usize, width: i32, height: i32, r: i32, sums: usize): void {
  const norm = 1.0 / <f64>(2 * r + 1);
  const line = (<usize>width) << 2;
  const last = <usize>(height - 1) * line;
  for (let x = 0; x < width; x++) {
    // as many as rows -r-1 to r-1 would give, those above the first being that one again
    let sum: f64 = 0;
    for (let k = -r - 1; k < r; k++) sum += <f64>load<f32>(src + min(<usize>max(k, 0) * line, last) + (x << 2));
    store<f64>(sums + (x << 3), sum);
  }
  for (let y = 0; y < height; y++)
    nextRow(
      src + min(<usize>(y + r) * line, last),
      src + <usize>max(y - r - 1, 0) * line,
      sums,
      dst + <usize>y * line,
      width,
      norm,
    );
}
