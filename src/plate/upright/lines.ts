/** A line or band that runs across a plate. */
export interface CrossLine {
  /** Mean of what it runs over. */
  readonly strength: number;
  /** Mean row. */
  readonly row: number;
  /** Scatter of its rows about a straight line, in pixels: a ruler's line is straight, a wet front bows. */
  readonly roughness: number;
}

/** What is taken for a line, or a band. */
export interface LineKind {
  /** Columns that the plate is divided into. */
  readonly columns: number;
  /** Bounds to values of the plane, so that a heavy spot does not draw the line to it. */
  readonly bounds: readonly [least: number, most: number];
  /** Steepest way of the line, rows per pixel. */
  readonly slope: number;
  /** What a step of one row costs. */
  readonly step: number;
}

/**
 * The strongest line from the left edge to the right, free to slant and bow: dynamic programming column by column.
 * @param plane row by row; what belongs to the line is high
 * @param from first row, `to` exclusive
 */
export function lineAcross(
  plane: Float32Array,
  width: number,
  [from, to]: readonly [number, number],
  { columns, bounds: [least, most], slope, step: cost }: LineKind,
): CrossLine {
  const rows = to - from;
  const step = Math.max(1, Math.round((slope * width) / columns));
  // Each column's means become, column by column, the best sums of a way that ends there.
  const best = columnMeans(plane, width, columns, from, rows, least, most);
  const ways = new Float64Array((step + 1) * (rows + 2 * step)).fill(Number.NEGATIVE_INFINITY);
  for (let c = 1, o = rows; c < columns; c++, o += rows) addBestWay(best, o, rows, step, cost, ways);
  const way = new Float64Array(columns);
  let at = 0;
  const last = (columns - 1) * rows;
  for (let y = 0; y < rows; y++) if (best[last + y] > best[last + at]) at = y;
  const strength = best[last + at] / columns;
  for (let c = columns - 1, o = last; c >= 0; c--, o -= rows) {
    way[c] = at + from;
    if (c > 0) at = comesFrom(best.subarray(o - rows, o), at, step, cost);
  }
  return { strength, ...straightness(way) };
}

/**
 * Adds to a column that begins at `o` the best sums to come from. Which is best is chosen as an address: over noise a processor would
 * guess every other branch wrong.
 * @param ways room for the column before less what 0, 1 ... steps cost, each with `step` rows of minus infinity at both ends
 */
function addBestWay(best: Float32Array, o: number, rows: number, step: number, cost: number, ways: Float64Array): void {
  const length = rows + 2 * step;
  for (let d = 0, k = step; d <= step; d++, k += length)
    for (let y = 0; y < rows; y++) ways[k + y] = best[o - rows + y] - cost * d;
  for (let y = 0; y < rows; y++) {
    let at = step + y;
    for (let d = 1, k = step + length + y; d <= step; d++, k += length) {
      at += Math.imul(k - d - at, Number(ways[k - d] > ways[at]));
      at += Math.imul(k + d - at, Number(ways[k + d] > ways[at]));
    }
    best[o + y] += ways[at];
  }
}

/** The row of the column before from which the best way to row `y` comes. */
function comesFrom(before: Float32Array, y: number, step: number, cost: number): number {
  let at = Math.max(0, y - step);
  let top = Number.NEGATIVE_INFINITY;
  for (let k = at; k <= Math.min(before.length - 1, y + step); k++) {
    const v = before[k] - cost * Math.abs(k - y);
    if (v <= top) continue;
    top = v;
    at = k;
  }
  return at;
}

/** Means of the pixels of each row in each of the columns, column by column. */
function columnMeans(
  plane: Float32Array,
  width: number,
  columns: number,
  from: number,
  rows: number,
  least: number,
  most: number,
): Float32Array {
  const means = new Float32Array(columns * rows);
  const [firsts, ends] = [new Int32Array(columns), new Int32Array(columns)];
  for (let c = 0; c < columns; c++) {
    firsts[c] = Math.floor((c * width) / columns);
    ends[c] = Math.max(firsts[c] + 1, Math.floor(((c + 1) * width) / columns));
  }
  for (let y = 0; y < rows; y++) meansInRow(plane, (from + y) * width, firsts, ends, least, most, means, y, rows);
  return means;
}

/** Those of the row that begins at `i`, into row `y` of the columns; a function of its own, which the engine compiles early. */
function meansInRow(
  plane: Float32Array,
  i: number,
  firsts: Int32Array,
  ends: Int32Array,
  least: number,
  most: number,
  means: Float32Array,
  y: number,
  rows: number,
): void {
  for (let c = 0, o = y; c < firsts.length; c++, o += rows) {
    const end = i + ends[c];
    let sum = 0;
    for (let k = i + firsts[c]; k < end; k++) sum += Math.max(least, Math.min(most, plane[k]));
    means[o] = sum / (ends[c] - firsts[c]);
  }
}

function straightness(way: Float64Array): { row: number; roughness: number } {
  const columns = way.length;
  const middle = (columns - 1) / 2;
  let row = 0;
  for (let c = 0; c < columns; c++) row += way[c];
  row /= columns;
  let across = 0;
  let along = 0;
  for (let c = 0; c < columns; c++) {
    across += (c - middle) * way[c];
    along += (c - middle) ** 2;
  }
  const slant = across / along;
  let squares = 0;
  for (let c = 0; c < columns; c++) squares += (way[c] - row - slant * (c - middle)) ** 2;
  return { row, roughness: Math.sqrt(squares / columns) };
}
