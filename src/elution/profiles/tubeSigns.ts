import type { PlateReading } from "../../model/index.ts";
import type { Grouping, Hiding } from "../grouping.ts";
import { type LaneAmount, laneAmounts, lightGains } from "./amounts.ts";
import { type LaneLimit, laneLimit, visibleLimits } from "./limits.ts";

/** What the lanes of one tube show of one component. */
export interface TubeSign extends LaneAmount, LaneLimit {
  /** Chance to show, judged from the other tubes' lanes alone. */
  readonly expected: number;
  /** The neighbour's spot in which the component would be lost, were it here, or null. */
  readonly hiding: Hiding | null;
  /** Chance that a spot stands here which another lane claims, too, and to which it is more likely to belong. */
  readonly elsewhere: number;
}

/** A tube shows a component where that is likelier than not. */
export function shows(sign: TubeSign): boolean {
  return sign.chance > 0.5;
}

/**
 * Signs of every component in every tube: [component][tube - 1], null where nobody spotted the tube.
 * @param lanesOf lanes (as in the grouping) of each tube
 */
export function tubeSigns(
  plates: readonly PlateReading[],
  grouping: Grouping,
  lanesOf: readonly (readonly number[])[],
): (TubeSign | null)[][] {
  const gains = lightGains(plates, grouping);
  const visible = visibleLimits(plates);
  const amounts = laneAmounts(plates, grouping, gains);
  return grouping.rf.map((_, k) =>
    lanesOf.map((lanes) => {
      if (lanes.length === 0) return null;
      return together(
        lanes.map((l) => ({
          ...amounts[l][k],
          ...laneLimit(plates, grouping, gains, visible, l, k),
          expected: grouping.lanes[l].expected[k],
          hiding: grouping.lanes[l].hiding[k],
          elsewhere: Math.max(0, ...grouping.lanes[l].spots.map((s) => s.elsewhere[k])),
        })),
      );
    }),
  );
}

/** Several lanes of one tube (or several spottings) as one. */
function together(lanes: readonly TubeSign[]): TubeSign {
  if (lanes.length === 1) return lanes[0];
  let odds = 1;
  let weight = 0;
  let sum = 0;
  let visible = 0;
  for (const lane of lanes) {
    visible = Math.max(visible, lane.chance * lane.visible);
    const c = Math.min(0.99, Math.max(0.02, lane.chance));
    odds *= c / (1 - c);
    const w = lane.chance / lane.logSd ** 2;
    weight += w;
    sum += w * Math.log(Math.max(1e-9, lane.amount));
  }
  return {
    chance: odds / (1 + odds),
    visible: Math.min(1, visible / Math.max(...lanes.map((l) => l.chance), 1e-9)),
    amount: weight > 0 ? Math.exp(sum / weight) : 0,
    logSd: weight > 0 ? Math.max(0.05, 1 / Math.sqrt(weight)) : 1,
    overloaded: lanes.some((l) => l.overloaded),
    limit: Math.min(...lanes.map((l) => l.limit)),
    visibleFrom: Math.min(...lanes.map((l) => l.visibleFrom)),
    expected: Math.max(...lanes.map((l) => l.expected)),
    hiding: lanes.some((l) => l.hiding === null) ? null : lanes[0].hiding,
    elsewhere: Math.min(...lanes.map((l) => l.elsewhere)),
  };
}

/** Smallest amount that usually shows: lower quartile over the spotted tubes, so that plates without the right light do not count. */
export function usualLimit(row: readonly (TubeSign | null)[]): number {
  const limits = row.flatMap((s) => (s ? [s.limit] : [])).sort((a, b) => a - b);
  return limits.length > 0 ? limits[Math.floor(limits.length / 4)] : 1e-3;
}

/** A lane that would not show even this share of the most there is of a component cannot see it. */
const CANNOT_SEE = 0.5;

/**
 * Tubes that say nothing of the component though they were spotted: it may be lost in a neighbour's spot, or its spot is
 * as likely to be that of the lane beside, or one lane
 * lacks it between two that show it well (a spot overlooked rather than a hole in the peak), or the plate was never put
 * under the light that shows it.
 */
export function blindTubes(row: readonly (TubeSign | null)[]): boolean[] {
  const most = Math.max(0, ...row.map((s) => (s && shows(s) ? s.amount : 0)));
  const spotted = row.flatMap((s, t) => (s ? [t] : []));
  const blind = new Array<boolean>(row.length).fill(false);
  spotted.forEach((t, i) => {
    const sign = row[t]!;
    if (shows(sign)) return;
    const before = i > 0 ? row[spotted[i - 1]] : null;
    const after = i + 1 < spotted.length ? row[spotted[i + 1]] : null;
    const between =
      before && after && shows(before) && shows(after) && Math.min(before.amount, after.amount) > 1.7 * sign.limit;
    blind[t] =
      sign.limit > CANNOT_SEE * most || Math.max(sign.hiding?.chance ?? 0, sign.elsewhere) > 0.3 || Boolean(between);
  });
  return blind;
}
