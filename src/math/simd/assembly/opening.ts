/** The lesser of each value and the one `hop` values further on, in place, for `n` values from `p` on. */
function lesserAhead(p: usize, hop: usize, n: usize): void {
  const away = hop << 2;
  let end = p + ((n & ~3) << 2);
  for (; p < end; p += 16) v128.store(p, f32x4.pmin(v128.load(p), v128.load(p + away)));
  end += (n & 3) << 2;
  for (; p < end; p += 4) {
    const other = load<f32>(p + away);
    if (other < load<f32>(p)) store<f32>(p, other);
  }
}

/** The greater of each value and the one `hop` values before it, in place, from the last of `n` values back to the one at `p`. */
function greaterBehind(p: usize, hop: usize, n: usize): void {
  const away = hop << 2;
  const rest = p + ((n & 3) << 2);
  let q = p + (n << 2);
  while (q > rest) {
    q -= 16;
    v128.store(q, f32x4.pmax(v128.load(q), v128.load(q - away)));
  }
  while (q > p) {
    q -= 4;
    const other = load<f32>(q - away);
    if (other > load<f32>(q)) store<f32>(q, other);
  }
}

/** How far a window of `have` values may grow at once: by doubling, a few passes do, whatever the size. */
function growth(have: usize, size: usize): usize {
  return min(have, size - have);
}

function erodeRows(p: usize, n: usize, width: usize, size: usize): void {
  for (let have: usize = 1; have < size; ) {
    const step = growth(have, size);
    if (step < width) for (let o: usize = 0; o < n; o += width) lesserAhead(p + (o << 2), step, width - step);
    have += step;
  }
}

function erodeColumns(p: usize, n: usize, width: usize, size: usize): void {
  for (let have: usize = 1; have < size; ) {
    const step = growth(have, size);
    if (step * width < n) lesserAhead(p, step * width, n - step * width);
    have += step;
  }
}

function dilateRows(p: usize, n: usize, width: usize, size: usize): void {
  for (let have: usize = 1; have < size; ) {
    const step = growth(have, size);
    if (step < width)
      for (let o: usize = 0; o < n; o += width) greaterBehind(p + ((o + step) << 2), step, width - step);
    have += step;
  }
}

function dilateColumns(p: usize, n: usize, width: usize, size: usize): void {
  for (let have: usize = 1; have < size; ) {
    const step = growth(have, size);
    if (step * width < n) greaterBehind(p + ((step * width) << 2), step * width, n - step * width);
    have += step;
  }
}

/**
 * Opening with a rectangle of `across` x `down` values, in place. Erosion looks forward and dilation backward over the same
 * window; windows are cut off at the border.
 */
export function openRectangle(p: usize, width: usize, height: usize, across: usize, down: usize): void {
  const n = width * height;
  erodeRows(p, n, width, across);
  erodeColumns(p, n, width, down);
  dilateRows(p, n, width, across);
  dilateColumns(p, n, width, down);
}
