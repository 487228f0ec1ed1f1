/** Hoare's selection (CACM 1961, 4, 321) of the value at place `k` of `n` in order; reorders them. */
export function selectNth(p: usize, n: i32, k: i32): f32 {
  const wanted = p + (k << 2);
  let low = p;
  let high = p + ((n - 1) << 2);
  while (low < high) {
    const pivot = load<f32>(p + (((((low - p) >> 2) + ((high - p) >> 2)) >> 1) << 2));
    let i = low;
    let j = high;
    while (i <= j) {
      while (load<f32>(i) < pivot) i += 4;
      while (load<f32>(j) > pivot) j -= 4;
      if (i > j) break;
      const swap = load<f32>(i);
      store<f32>(i, load<f32>(j));
      store<f32>(j, swap);
      i += 4;
      j -= 4;
    }
    if (wanted <= j) high = j;
    else if (wanted >= i) low = i;
    else break;
  }
  return load<f32>(wanted);
}
