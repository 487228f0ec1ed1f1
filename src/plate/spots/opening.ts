/** Least of each window of 2 reach + 1 values, then the greatest of these: bumps narrower than the window are gone. */
export function opened(values: Float64Array, reach: number): Float64Array {
  const least = new Float64Array(values.length);
  const greatest = new Float64Array(values.length);
  for (let r = 0; r < values.length; r++) least[r] = values[placeOf(values, r, reach, 1)];
  for (let r = 0; r < values.length; r++) greatest[r] = least[placeOf(least, r, reach, -1)];
  return greatest;
}

/** The other way round: dips narrower than the window are gone. */
export function closed(values: Float64Array, reach: number): Float64Array {
  return opened(
    values.map((v) => -v),
    reach,
  ).map((v) => -v);
}

/** Where the least (sign 1) or the greatest (sign -1) value of such a window is. */
function placeOf(values: Float64Array, row: number, reach: number, sign: 1 | -1): number {
  let at = row;
  for (let r = Math.max(0, row - reach), end = Math.min(values.length - 1, row + reach); r <= end; r++)
    if (sign * values[r] < sign * values[at]) at = r;
  return at;
}
