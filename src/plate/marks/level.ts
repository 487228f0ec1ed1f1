import type { MarkRow, SignalMap } from "../view.ts";

/** Rows above and below a mark's middle that are looked at, as shares of the plate's height. */
const LEAST_REACH = 0.012;
const MOST_REACH = 0.028;

/**
 * The row's height anew, from the whole grey signal of its marks: a thick or blurred mark is only partly a stroke, and
 * what of it is may lie off its middle. Median over the marks of the centre of what stands above a straight ground.
 */
export function levelled(row: MarkRow, map: SignalMap): MarkRow {
  const { width, height, data } = map.grey;
  const reach = Math.round(Math.min(MOST_REACH * height, Math.max(LEAST_REACH * height, 0.9 * row.size)));
  const offsets = row.marks.map((mark) => {
    const u = (mark.x0 + mark.x1) / 2 / width - 0.5;
    const middle = Math.round(row.y + row.tilt * u);
    const from = Math.max(0, middle - reach);
    const to = Math.min(height - 1, middle + reach);
    const x0 = Math.max(0, mark.x0 - 2);
    const x1 = Math.min(width, mark.x1 + 2);
    const profile = Array.from({ length: to - from + 1 }, (_, i) => {
      let s = 0;
      for (let x = x0; x < x1; x++) s += data[(from + i) * width + x];
      return s;
    });
    return centreAbove(profile) + from + 0.5 - (row.y + row.tilt * u);
  });
  offsets.sort((a, b) => a - b);
  const shift = offsets[offsets.length >> 1];
  // A larger shift means that something else stands beside the marks.
  return Math.abs(shift) > reach / 2 ? row : { ...row, y: row.y + shift };
}

/** Centre of mass of what stands above half of the profile's rise over the line through its ends. */
function centreAbove(profile: readonly number[]): number {
  const last = profile.length - 1;
  const raised = profile.map((v, i) => v - profile[0] - ((profile[last] - profile[0]) * i) / last);
  const floor = 0.4 * Math.max(...raised);
  let sum = 0;
  let moment = 0;
  raised.forEach((v, i) => {
    if (v <= floor) return;
    sum += v - floor;
    moment += (v - floor) * i;
  });
  return sum > 0 ? moment / sum : last / 2;
}
