import type { ElutionProfile, ExpectedBand, PlateReading, ProfilePoint } from "../../model/index.ts";
import { type Belief, expectedAmount, type TubeBelief } from "../belief.ts";
import { claimedBeside, type Grouping } from "../grouping.ts";
import { afterMissing } from "./censored.ts";
import { evenAmounts } from "./evenAmounts.ts";
import { type Forecast, type Track, tracks } from "./forecast.ts";
import { hiddenChance } from "./hidden.ts";
import { shows, type TubeSign, tubeSigns } from "./tubeSigns.ts";

/** Chance that a strong spot is overlooked, and that a named lane was never spotted. */
const OVERLOOKED = 0.01;
const NEVER_SPOTTED = 0.01;
/** Chances of components in tubes nobody spotted are kept this far from 0 and 1. */
const INFERRED_EDGE = 0.01;
/** Far from any spotted tube a component is there with this chance; tubes over which what the others tell fades. */
const UNKNOWN_CHANCE = 0.2;
const UNKNOWN_REACH = 8;
/** Scatter of the volume spotted from lane to lane (log). */
const SPOTTING = 0.25;
/** An overloaded spot holds more than it shows: added to the log amount, and its sd. */
const OVERLOAD_LOG = 0.2;
const OVERLOAD_SD = 0.3;
/**
 * How much the peak over the tubes says of a spot whose neighbours the grouping has looked at already: of spots found on
 * development photos where the peak is next to nothing, a third to a half were real that were said to be two thirds.
 */
const PEAK_WORD = 0.15;

export interface Followed {
  /** One entry per component. */
  readonly profiles: readonly Omit<ElutionProfile, "component">[];
  readonly tracks: readonly Track[];
  readonly tubes: readonly TubeBelief[];
  /** [tube - 1][component] what would be believed had nobody spotted the tube. */
  readonly unlooked: readonly (readonly Belief[])[];
  /** Scatter of amounts about their peaks, log scale, the largest of the components that some tube shows; 0 where none is. */
  readonly scatter: number;
}

/**
 * Follows each component over the tubes 1 … `count`: amounts from all lanes and lights, smoothed by a tailed peak where
 * one fits, and the chance that it shows in each tube, spotted or not. See docs/methods/profiles.md.
 * @param plan where a plan expects the components; empty: nobody planned
 */
export function followComponents(
  plates: readonly PlateReading[],
  grouping: Grouping,
  count: number,
  plan: readonly ExpectedBand[] = [],
): Followed {
  const lanesOf = Array.from({ length: count }, () => [] as number[]);
  grouping.lanes.forEach((lane, l) => {
    if (lane.tube !== null && lane.tube >= 1 && lane.tube <= count) lanesOf[lane.tube - 1].push(l);
  });
  const rows = tubeSigns(evenAmounts(plates), grouping, lanesOf);
  const followed = tracks(rows, count, plan.length > 0 ? { bands: plan, rf: grouping.rf } : null);
  const tubes = lanesOf.map((lanes, t) => {
    const forgotten = lanes.length > 0 ? forgottenChance(rows, followed, t) : 0;
    const components = rows.map((row, k) =>
      believe(row[t], followed[k], t, forgotten, neighbourLog(rows, k, t), away(lanesOf, t)),
    );
    const silent = lanes.length > 0 && rows.every((row) => row[t] === null || !shows(row[t]));
    return {
      number: t + 1,
      seen: lanes.length > 0,
      components,
      silent,
      evidence: evidenceFor(grouping, lanesOf, t),
      forgotten,
      claimed: lanes.some((l) => claimedBeside(grouping.lanes[l])),
    };
  });
  const profiles = rows.map((row, k) => ({
    points: row.map((s, t) => point(s, tubes[t].components[k], followed[k], t)),
    fitted: followed[k].fitted,
  }));
  const shown = followed.filter((_, k) => profiles[k].points.some((p) => (p.measured ?? 0) > 0));
  const scatter = Math.max(0, ...shown.map((t) => t.scatter));
  const unlooked = tubes.map((_, t) =>
    followed.map((track) => inferred(track.forecasts[t], Math.log(track.limits[t]), 0)),
  );
  return { profiles, tracks: followed, tubes, unlooked, scatter };
}

/** Chance that a lane without any spot was named but not spotted: all that should be there is missing at once. */
function forgottenChance(
  rows: readonly (readonly (TubeSign | null)[])[],
  followed: readonly Track[],
  t: number,
): number {
  let missing = 1;
  for (let k = 0; k < rows.length; k++) {
    const sign = rows[k][t];
    if (!sign) continue;
    if (sign.chance > 0.3) return 0;
    missing *= 1 - prior(sign, followed[k].forecasts[t]) * (1 - OVERLOOKED);
  }
  return NEVER_SPOTTED / (NEVER_SPOTTED + (1 - NEVER_SPOTTED) * missing);
}

/** Chance to show before looking at the lane itself: its neighbours and its peak, half each on the log-odds scale. */
function prior(sign: TubeSign | null, ahead: Forecast): number {
  if (!sign) return ahead.chance;
  const a = Math.log(ahead.chance / (1 - ahead.chance));
  const b = Math.log(sign.expected / (1 - sign.expected));
  return 1 / (1 + Math.exp(-0.5 * (a + b)));
}

/** Log amount of the neighbour in whose spot component `k` would be lost, or null. */
function neighbourLog(rows: readonly (readonly (TubeSign | null)[])[], k: number, t: number): number | null {
  const hiding = rows[k][t]?.hiding;
  const other = hiding ? rows[hiding.neighbour][t] : null;
  return other && other.amount > 0 ? Math.log(other.amount) : null;
}

/** Chance that a spot stands for the component, the peak over the tubes counted in: `PEAK_WORD` of its log odds. */
function withPeak(chance: number, ahead: Forecast): number {
  if (chance <= 0 || chance >= 1) return chance;
  const odds = (chance / (1 - chance)) * (ahead.chance / (1 - ahead.chance)) ** PEAK_WORD;
  return odds / (1 + odds);
}

/** Chance and amount of a component in a tube; `neighbour` as from `neighbourLog`, `tubesAway` as from `away`. */
function believe(
  sign: TubeSign | null,
  track: Track,
  t: number,
  forgotten: number,
  neighbour: number | null,
  tubesAway: number,
): Belief {
  const ahead = track.forecasts[t];
  if (!sign) return inferred(ahead, Math.log(track.limits[t]), tubesAway);
  const before = prior(sign, ahead);
  const hidden =
    sign.hiding && neighbour !== null
      ? hiddenChance(sign.hiding, before, ahead.logMean - neighbour, Math.hypot(ahead.logSd, SPOTTING))
      : 0;
  const lost = hidden + (1 - hidden) * sign.elsewhere * before;
  const unseen = (1 - forgotten) * lost + forgotten * before;
  const found = withPeak(sign.chance, ahead);
  const chance = found + (1 - found) * unseen;
  const measuredWeight = found / (sign.logSd ** 2 + (sign.overloaded ? OVERLOAD_SD ** 2 : 0));
  const measuredLog = sign.amount > 0 ? Math.log(sign.amount) + (sign.overloaded ? OVERLOAD_LOG : 0) : 0;
  const aheadWeight = 1 / (ahead.logSd ** 2 + SPOTTING ** 2);
  const weight = measuredWeight + aheadWeight;
  // What shows is at least as much as can be seen.
  const aheadLog = Math.max(ahead.logMean, Math.log(sign.limit));
  const logMean = (measuredWeight * measuredLog + aheadWeight * aheadLog) / weight;
  const visible = chance > 0 ? (found * sign.visible + (chance - found)) / chance : 1;
  const aheadSd = Math.hypot(ahead.logSd, SPOTTING);
  return {
    chance: Math.min(0.998, chance),
    spot: { logMean, logSd: 1 / Math.sqrt(weight), visible },
    rest: afterMissing(ahead.logMean, aheadSd, Math.log(sign.limit), Math.log(sign.visibleFrom)),
  };
}

/** Tubes to the nearest that somebody spotted. */
function away(lanesOf: readonly (readonly number[])[], t: number): number {
  for (let d = 0; d < lanesOf.length; d++) if (lanesOf[t - d]?.length || lanesOf[t + d]?.length) return d;
  return lanesOf.length;
}

/** A tube nobody spotted is never as sure as one that was, and the less so the further away the nearest such is. */
function inferred(ahead: Forecast, logLimit: number, tubesAway: number): Belief {
  const told = Math.exp(-Math.max(0, tubesAway - 2) / UNKNOWN_REACH);
  const likely = told * ahead.chance + (1 - told) * UNKNOWN_CHANCE;
  const chance = Math.min(1 - INFERRED_EDGE, Math.max(INFERRED_EDGE, likely));
  const logSd = Math.hypot(ahead.logSd, SPOTTING);
  return {
    chance,
    spot: { logMean: Math.max(ahead.logMean, logLimit), logSd, visible: 1 },
    rest: { ...afterMissing(ahead.logMean, logSd, logLimit, logLimit), visible: 0 },
  };
}

/** The fitted peak where there is one, else what is believed of the tube. */
function point(sign: TubeSign | null, belief: Belief, track: Track, t: number): ProfilePoint {
  const measured = sign ? (shows(sign) ? sign.amount : 0) : null;
  if (track.fitted && track.peak) {
    const amount = track.peak.at(t + 1);
    return { fraction: t + 1, amount, sd: amount * track.forecasts[t].logSd, measured };
  }
  const there = Math.exp(belief.spot.logMean);
  const sd = there * Math.hypot(belief.chance * belief.spot.logSd, Math.sqrt(belief.chance * (1 - belief.chance)));
  return { fraction: t + 1, amount: expectedAmount(belief), sd, measured };
}

/** The tube's own lanes, or those of the nearest spotted tubes on both sides. */
function evidenceFor(grouping: Grouping, lanesOf: readonly (readonly number[])[], t: number) {
  if (lanesOf[t].length > 0) return lanesOf[t].map((l) => grouping.lanes[l].ref);
  const near = (step: number) => {
    for (let i = t + step; i >= 0 && i < lanesOf.length; i += step) if (lanesOf[i].length > 0) return lanesOf[i];
    return [];
  };
  return [...near(-1), ...near(1)].map((l) => grouping.lanes[l].ref);
}
