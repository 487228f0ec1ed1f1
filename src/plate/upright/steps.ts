import { sumsOf } from "./columns.ts";
import { RIM, type Soft } from "./signs.ts";

/** Shares of the height between which a step is sought at the head; at the foot as far from the edge. */
const ZONE = [0.05, 0.24] as const;
/** Rows that are compared above and below a step: from this far from it, so many at most, and so many at least. */
const ROWS = { from: 3, most: 8, least: 2 };
/** What is left out at either side, as a share of the width, every which pixel counts, and how far. */
const ACROSS = { rim: 0.05, step: 1, most: 2 };

/**
 * How much more the layer's shade changes across a level near the head than near the foot: the solvent has not been beyond the front,
 * and that strip is often of another tone, while nothing of the kind happens at the origin.
 */
export function layerStep(signs: Soft): number {
  const { width: w, height: h } = signs;
  const between = sumsOf(shadeByRow(signs));
  const rim = Math.round(RIM * Math.max(w, h));
  const step = (row: number) => {
    const [top, above] = [Math.max(rim, row - ROWS.from - ROWS.most + 1), row - ROWS.from + 1];
    const [below, foot] = [row + ROWS.from, Math.min(h - rim, row + ROWS.from + ROWS.most)];
    if (Math.min(above - top, foot - below) < ROWS.least) return 0;
    return Math.abs(between(top, above) / (above - top) - between(below, foot) / (foot - below));
  };
  let [head, foot] = [0, 0];
  for (let y = Math.round(ZONE[0] * h); y < ZONE[1] * h; y++) {
    head = Math.max(head, step(y));
    foot = Math.max(foot, step(h - 1 - y));
  }
  return head - foot;
}

/** Mean shade of the rows near both ends; 0 in the middle. */
function shadeByRow({ width: w, height: h, shade }: Soft): Float64Array {
  const rim = Math.round(ACROSS.rim * w);
  const rows = new Float64Array(h);
  const reach = Math.min(Math.ceil(ZONE[1] * h) + ROWS.from + ROWS.most, h >> 1);
  for (let y = 0; y < reach; y++) {
    rows[y] = boundedMean(shade, y * w + rim, (y + 1) * w - rim);
    rows[h - 1 - y] = boundedMean(shade, (h - 1 - y) * w + rim, (h - y) * w - rim);
  }
  return rows;
}

function boundedMean(shade: Float32Array, from: number, end: number): number {
  let sum = 0;
  let count = 0;
  for (let i = from; i < end; i += ACROSS.step, count++) sum += Math.max(-ACROSS.most, Math.min(ACROSS.most, shade[i]));
  return sum / Math.max(1, count);
}
