/** A line or band that runs across a plate. */
export interface CrossLine {
  /** Mean of what it runs over. */
  readonly strength: number;
  /** Mean row. */
  readonly row: number;
  /** Scatter of its rows about a straight line, in pixels: a ruler's line is straight, a wet front bows. */
  readonly roughness: number;
}

const COLUMNS = 48;
/** What a step of one row costs. */
const STEP = 0.15;

/**
 * The strongest line from the left edge to the right, free to slant and bow: dynamic programming over 48 columns.
 * @param plane row by row; what belongs to the line is high
 * @param from first row, `to` exclusive
 * @param least,most bounds to values of the plane, so that a heavy spot does not draw the line to it
 * @param slope steepest way of the line, rows per pixel
 */
export function lineAcross(
  plane: Float32Array,
  width: number,
  [from, to]: readonly [number, number],
  [least, most]: readonly [number, number],
  slope: number,
): CrossLine {
  const rows = to - from;
  const step = Math.max(1, Math.round((slope * width) / COLUMNS));
  const origin = new Int16Array(COLUMNS * rows);
  let best = columnMeans(plane, width, from, rows, 0, least, most);
  for (let c = 1; c < COLUMNS; c++) {
    const next = columnMeans(plane, width, from, rows, c, least, most);
    for (let y = 0; y < rows; y++) {
      let top = Number.NEGATIVE_INFINITY;
      for (let k = Math.max(0, y - step); k <= Math.min(rows - 1, y + step); k++) {
        const v = best[k] - STEP * Math.abs(k - y);
        if (v <= top) continue;
        top = v;
        origin[c * rows + y] = k;
      }
      next[y] += top;
    }
    best = next;
  }
  let y = 0;
  for (let k = 0; k < rows; k++) if (best[k] > best[y]) y = k;
  const strength = best[y] / COLUMNS;
  const way = new Float64Array(COLUMNS);
  for (let c = COLUMNS - 1; c >= 0; c--) {
    way[c] = y + from;
    y = origin[c * rows + y];
  }
  return { strength, ...straightness(way) };
}

function columnMeans(
  plane: Float32Array,
  width: number,
  from: number,
  rows: number,
  column: number,
  least: number,
  most: number,
): Float32Array {
  const x0 = Math.floor((column * width) / COLUMNS);
  const x1 = Math.max(x0 + 1, Math.floor(((column + 1) * width) / COLUMNS));
  const means = new Float32Array(rows);
  for (let y = 0; y < rows; y++) {
    let sum = 0;
    for (let x = x0, i = (y + from) * width + x0; x < x1; x++, i++) sum += Math.max(least, Math.min(most, plane[i]));
    means[y] = sum / (x1 - x0);
  }
  return means;
}

function straightness(way: Float64Array): { row: number; roughness: number } {
  const middle = (COLUMNS - 1) / 2;
  const row = way.reduce((sum, y) => sum + y, 0) / COLUMNS;
  let across = 0;
  let along = 0;
  for (let c = 0; c < COLUMNS; c++) {
    across += (c - middle) * way[c];
    along += (c - middle) ** 2;
  }
  const slant = across / along;
  const squares = way.reduce((sum, y, c) => sum + (y - row - slant * (c - middle)) ** 2, 0);
  return { row, roughness: Math.sqrt(squares / COLUMNS) };
}
