/** Something that a lane shows across the plate. */
export interface LaneSign {
  /** Pixels from the left. */
  readonly x: number;
  /** 0..1: how much it speaks for a lane. */
  readonly weight: number;
}

/** All that speaks for lanes: columns of spots, and pencil marks, row by row. */
export interface LaneSigns {
  readonly spots: readonly LaneSign[];
  readonly rows: readonly (readonly LaneSign[])[];
}

/** Half the width of the smoothing, as a share of the plate's width. */
const SOFT = 0.008;
/** A column of spots rises out of its valleys by this share of its height. */
const RISE = 0.25;
/** Energies below this are noise. */
const LEAST = 1.5;
/** A column this high, as a share of the plate's higher ones, speaks for a lane in full. */
const PLAIN = 0.6;
/** Share of the width at each side where the plate's edge looks like spots. */
const EDGE = { share: 0.03, weight: 0.4 };
const MARK = 0.6;
const TICK = 0.7;

/**
 * @param columns energy of spots per column of pixels
 * @param marks centres of pencil marks, row by row
 * @param ticks centres of strokes that cross the origin
 */
export function laneSigns(
  columns: Float64Array,
  marks: readonly (readonly number[])[],
  ticks: readonly number[],
): LaneSigns {
  const rows = marks.filter((row) => row.length >= 3).map((row) => row.map((x) => ({ x, weight: MARK })));
  if (ticks.length > 0) rows.push(ticks.map((x) => ({ x, weight: TICK })));
  return { spots: spotColumns(columns), rows };
}

function spotColumns(columns: Float64Array): LaneSign[] {
  const width = columns.length;
  const r = Math.max(1, Math.round(SOFT * width));
  const soft = meanOf(meanOf(columns, r), r);
  const peaks: { x: number; height: number }[] = [];
  for (let x = 1; x < width - 1; x++) {
    const height = soft[x];
    if (height < LEAST || height <= soft[x - 1] || height < soft[x + 1]) continue;
    if (height - Math.max(valley(soft, x, -1), valley(soft, x, 1)) < RISE * height) continue;
    peaks.push({ x: x + 0.5, height });
  }
  const heights = peaks.map((p) => p.height).sort((a, b) => a - b);
  const usual = Math.max(4, heights[Math.floor(0.6 * heights.length)] ?? 0);
  return peaks.map(({ x, height }) => {
    const inside = x > EDGE.share * width && x < (1 - EDGE.share) * width;
    return { x, weight: Math.min(1, Math.sqrt(height / (PLAIN * usual))) * (inside ? 1 : EDGE.weight) };
  });
}

function meanOf(values: Float64Array, r: number): Float64Array {
  const last = values.length - 1;
  return values.map((_, x) => {
    let sum = 0;
    for (let k = x - r; k <= x + r; k++) sum += values[Math.min(last, Math.max(0, k))];
    return sum / (2 * r + 1);
  });
}

/** Lowest value on the way from x in one direction until something higher stands there. */
function valley(values: Float64Array, x: number, direction: 1 | -1): number {
  let low = values[x];
  for (let i = x + direction; i >= 0 && i < values.length && values[i] <= values[x]; i += direction)
    low = Math.min(low, values[i]);
  return low;
}
