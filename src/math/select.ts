/**
 * The value that would stand at place `k` (0-based) if `values` were sorted: Hoare's selection (CACM 1961, 4, 321).
 * Reorders `values`; much quicker than sorting them all. NaN must not occur.
 */
export function selectAt(values: Float32Array, k: number): number {
  let low = 0;
  let high = values.length - 1;
  while (low < high) {
    const pivot = values[(low + high) >> 1];
    let i = low;
    let j = high;
    while (i <= j) {
      while (values[i] < pivot) i++;
      while (values[j] > pivot) j--;
      if (i > j) break;
      const swap = values[i];
      values[i++] = values[j];
      values[j--] = swap;
    }
    if (k <= j) high = j;
    else if (k >= i) low = i;
    else break;
  }
  return values[k];
}
