/** Sum of a kernel of odd length laid over each value and its neighbours; beyond the ends the last value goes on. */
export function convolved(values: ArrayLike<number>, kernel: ArrayLike<number>): Float64Array {
  const reach = kernel.length >> 1;
  const last = values.length - 1;
  return Float64Array.from({ length: values.length }, (_, i) => {
    let sum = 0;
    for (let k = -reach; k <= reach; k++) sum += kernel[k + reach] * values[Math.min(last, Math.max(0, i + k))];
    return sum;
  });
}
