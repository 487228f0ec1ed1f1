import { courseOf, heightAt, lengthOf, type Peak, sigmaBack, sigmaFront } from "./peaks.ts";
import { ACROSS, offsetOfColumn, RF_STEPS, type Strip } from "./strip.ts";

/** What two dimensions say of a peak that one dimension found. */
export interface SpotShape {
  /** Centre across the lane, in pitches from the lane's centre. */
  readonly offset: number;
  /** Full width at half maximum across the lane, in pitches. */
  readonly width: number;
  /** Share of the pixels in the spot's core that carry at least 35 % of its typical core signal: 1 for a spot, low for strokes. */
  readonly fill: number;
  /** What stands at the lane's two borders, the higher and the lower, over what stands in its middle. */
  readonly borders: readonly [number, number];
  /** Signal integrated over the spot, in signal x pitches x rows. */
  readonly amount: number;
}

/** Signal of a peak across the lane: least-squares share of each column in the peak's own course along the lane. */
function acrossOf(strip: Strip, peak: Peak, others: readonly Peak[]): Float64Array {
  const out = new Float64Array(ACROSS);
  const from = Math.max(0, Math.floor(peak.mode - 2 * sigmaBack(peak)));
  const to = Math.min(RF_STEPS - 1, Math.ceil(peak.mode + 2 * sigmaFront(peak)));
  const unit = courseOf({ ...peak, height: 1 });
  const rests = others.map(courseOf);
  const sums = new Float64Array(ACROSS);
  let norm = 0;
  for (let r = from; r <= to; r++) {
    const e = heightAt(unit, r);
    let rest = 0;
    for (const o of rests) rest += heightAt(o, r);
    // Where others stand on the same rows only the peak's own share counts.
    const own = (e * peak.height) / Math.max(e * peak.height + rest, 1e-9);
    norm += e * e;
    for (let c = 0; c < ACROSS; c++) sums[c] += e * own * strip.data[r * ACROSS + c];
  }
  for (let c = 0; c < ACROSS; c++) out[c] = sums[c] / Math.max(norm, 1e-9);
  return out;
}

/** Columns of a lane's left border, half a pitch from its centre, and of its middle. */
const BORDER = { from: 1, to: 3 };
const CORE = { from: 10, to: 14 };

function mean(values: Float64Array, from: number, to: number): number {
  let sum = 0;
  for (let i = from; i <= to; i++) sum += values[i];
  return sum / (to - from + 1);
}

/** Centre, width, fill and amount of a peak in its lane's strip. */
export function shapeOf(strip: Strip, peak: Peak, others: readonly Peak[]): SpotShape {
  const x = acrossOf(strip, peak, others);
  let top = 0;
  for (let c = 0; c < ACROSS; c++) if (Math.abs(offsetOfColumn(c)) < 0.42 && (x[c] > x[top] || top === 0)) top = c;
  let lo = top;
  let hi = top;
  while (lo > 0 && x[lo - 1] > 0.5 * x[top]) lo--;
  while (hi < ACROSS - 1 && x[hi + 1] > 0.5 * x[top]) hi++;
  const step = offsetOfColumn(1) - offsetOfColumn(0);
  let sum = 0;
  let moment = 0;
  for (let c = lo; c <= hi; c++) {
    sum += x[c];
    moment += x[c] * offsetOfColumn(c);
  }
  let total = 0;
  for (let c = Math.max(0, lo - 4); c <= Math.min(ACROSS - 1, hi + 4); c++) total += Math.max(x[c], 0);
  const length = lengthOf(peak);
  const left = mean(x, BORDER.from, BORDER.to);
  const right = mean(x, ACROSS - 1 - BORDER.to, ACROSS - 1 - BORDER.from);
  const middle = Math.max(mean(x, CORE.from, CORE.to), 1e-6);
  return {
    borders: [Math.max(left, right) / middle, Math.min(left, right) / middle],
    offset: sum > 0 ? moment / sum : offsetOfColumn(top),
    width: (hi - lo + 1) * step,
    fill: fillOf(strip, peak, lo, hi, x[top]),
    amount: Math.max(0, total * step * length),
  };
}

function fillOf(strip: Strip, peak: Peak, lo: number, hi: number, top: number): number {
  const from = Math.max(0, Math.round(peak.mode - sigmaBack(peak)));
  const to = Math.min(RF_STEPS - 1, Math.round(peak.mode + sigmaFront(peak)));
  let n = 0;
  let full = 0;
  for (let r = from; r <= to; r++)
    for (let c = lo; c <= hi; c++) {
      n++;
      if (strip.data[r * ACROSS + c] > 0.35 * top) full++;
    }
  return n === 0 ? 0 : full / n;
}
