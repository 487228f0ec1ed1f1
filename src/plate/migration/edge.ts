import { selectAt } from "../../math/select.ts";
import { type Stripes, stripeCentre } from "./blocks.ts";
import { type RowCurve, rowAt } from "./curves.ts";

/** Rows looked at above and below the band, and the half width from which on a mark is a band and no pencil line. */
const ABOVE = 0.05;
const BELOW = 0.02;
const BAND = 0.0035;
/** The band has ended where the signal has fallen to this share of its height. */
const EDGE = 0.5;
/** How far from the ridge to that end the front is taken to lie: a soft band has no sharp end. */
const REACHED = 0.65;

/**
 * Moves a curve from the ridge of a wet band up towards its leading edge, which is the solvent front. A line as thin as
 * pencil stays. The band's course is the median over the stripes of the signal along the curve.
 */
export function leadingEdge(stripes: Stripes, curve: RowCurve, margin: number): RowCurve {
  const { count, height, data } = stripes;
  const above = Math.round(ABOVE * height);
  const below = Math.round(BELOW * height);
  const first = Int32Array.from({ length: count }, (_, b) => {
    return Math.round(rowAt(curve, stripeCentre(b, count, margin)) - 0.5) - above;
  });
  const values = new Float32Array(count);
  const course = Array.from({ length: above + below + 1 }, (_, k) => {
    let n = 0;
    for (let b = 0; b < count; b++) {
      const y = first[b] + k;
      if (y >= 0 && y < height) values[n++] = data[b * height + y];
    }
    return n < count / 2 ? Number.NaN : selectAt(values.subarray(0, n), n >> 1);
  });
  let top = above;
  const near = Math.max(2, Math.round(0.008 * height));
  for (let k = above - near; k <= above + near; k++) if (course[k] > course[top]) top = k;
  const beyond = course.slice(0, Math.max(2, top - Math.round(0.018 * height))).filter((v) => !Number.isNaN(v));
  if (beyond.length === 0 || Number.isNaN(course[top])) return curve;
  const ground = beyond.sort((p, q) => p - q)[beyond.length >> 1];
  const level = ground + EDGE * (course[top] - ground);
  let k = top;
  while (k > 0 && course[k - 1] > level) k--;
  if (k === 0) return curve;
  const step = course[k] - course[k - 1];
  const edge = k - (step > 0 ? (course[k] - level) / step : 0);
  const halfWidth = top - edge;
  if (halfWidth < BAND * height || halfWidth > 0.03 * height) return curve;
  return { ...curve, y: curve.y + top - above - REACHED * halfWidth };
}
