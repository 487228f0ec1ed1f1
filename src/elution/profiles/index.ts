import { normalCdf } from "../../math/normal.ts";
import type { ElutionProfile, PlateReading, ProfilePoint } from "../../model/index.ts";
import type { Belief, TubeBelief } from "../belief.ts";
import type { Grouping } from "../grouping.ts";
import { type LaneAmount, laneAmounts, lightGains, seenFrom } from "./amounts.ts";
import { fitTailedPeak, type Measurement, type TailedPeak } from "./tailedPeak.ts";

/** Chance that a spot well above the limit is overlooked, and that a named lane was never spotted. */
const OVERLOOKED = 0.04;
const NEVER_SPOTTED = 0.004;
/** Scatter of the volume spotted from lane to lane (log). */
const SPOTTING = 0.25;

export interface Followed {
  readonly profiles: readonly Omit<ElutionProfile, "component">[];
  readonly peaks: readonly (TailedPeak | null)[];
  readonly tubes: readonly TubeBelief[];
}

interface Seen extends LaneAmount {
  readonly limit: number;
  readonly expected: number;
}

/**
 * Follows each component over the tubes 1 … `count`: amounts from all lanes and lights, smoothed by a tailed peak where
 * one fits, and the chance that it shows in each tube, spotted or not. See docs/methods/profiles.md.
 */
export function followComponents(plates: readonly PlateReading[], grouping: Grouping, count: number): Followed {
  const gains = lightGains(plates, grouping);
  const amounts = laneAmounts(plates, grouping, gains);
  const lanesOf = Array.from({ length: count }, () => [] as number[]);
  grouping.lanes.forEach((lane, l) => {
    if (lane.tube !== null && lane.tube >= 1 && lane.tube <= count) lanesOf[lane.tube - 1].push(l);
  });
  const seen = grouping.rf.map((_, k) =>
    lanesOf.map((lanes) => {
      if (lanes.length === 0) return null;
      return together(
        lanes.map((l) => ({
          ...amounts[l][k],
          limit: seenFrom(plates, grouping, gains, l, k),
          expected: grouping.lanes[l].expected[k],
        })),
      );
    }),
  );
  const peaks = seen.map((row) => fitTailedPeak(measurements(row)));
  const forecasts = seen.map((row, k) => row.map((_, t) => forecast(row, peaks[k], t)));
  const tubes = lanesOf.map((lanes, t) => {
    const forgotten = lanes.length > 0 ? forgottenChance(seen, forecasts, t) : 0;
    const components = seen.map((row, k) => believe(row[t], forecasts[k][t], forgotten));
    return {
      number: t + 1,
      seen: lanes.length > 0,
      components,
      evidence: evidenceFor(grouping, lanesOf, t),
      forgotten,
    };
  });
  const profiles = seen.map((row, k) => ({
    points: row.map((s, t) => point(s, tubes[t].components[k], t)),
    fitted: peaks[k] !== null,
  }));
  return { profiles, peaks, tubes };
}

/** Several lanes of one tube (or several spottings) as one. */
function together(lanes: readonly Seen[]): Seen {
  if (lanes.length === 1) return lanes[0];
  const limit = Math.min(...lanes.map((l) => l.limit));
  const expected = Math.max(...lanes.map((l) => l.expected));
  let odds = 1;
  let weight = 0;
  let sum = 0;
  for (const lane of lanes) {
    const c = Math.min(0.99, Math.max(0.02, lane.chance));
    odds *= c / (1 - c);
    const w = lane.chance / lane.logSd ** 2;
    weight += w;
    sum += w * Math.log(Math.max(1e-9, lane.amount));
  }
  const amount = weight > 0 ? Math.exp(sum / weight) : 0;
  const logSd = weight > 0 ? Math.max(0.05, 1 / Math.sqrt(weight)) : 1;
  return { chance: odds / (1 + odds), amount, logSd, overloaded: lanes.some((l) => l.overloaded), limit, expected };
}

function measurements(row: readonly (Seen | null)[]): Measurement[] {
  return row.flatMap((s, t) => (s ? [{ tube: t + 1, amount: s.chance > 0.4 ? s.amount : 0, limit: s.limit }] : []));
}

interface Forecast {
  /** Log amount that the other tubes lead one to expect, its sd, and the chance that it would show. */
  readonly logMean: number;
  readonly logSd: number;
  readonly chance: number;
}

/** What the peak, or else the neighbours, say of a tube. */
function forecast(row: readonly (Seen | null)[], peak: TailedPeak | null, t: number): Forecast {
  const limit = nearestLimit(row, t);
  const around = neighbours(row, t);
  if (peak) {
    const logMean = Math.log(peak.at(t + 1) + 1e-3 * limit);
    const logSd = Math.hypot(peak.logSd, 0.2);
    return { logMean, logSd, chance: showChance(logMean, logSd, limit) };
  }
  const logMean = Math.log(around.amount + 0.05 * limit);
  const logSd = 0.5 + 0.25 * (around.distance - 1);
  return { logMean, logSd, chance: Math.min(around.chance, showChance(logMean, logSd, limit) + 0.02) };
}

function showChance(logMean: number, logSd: number, limit: number): number {
  return Math.min(0.985, Math.max(0.003, normalCdf((logMean - Math.log(limit)) / logSd)));
}

function nearestLimit(row: readonly (Seen | null)[], t: number): number {
  for (let d = 0; d < row.length; d++) {
    const here = row[t - d] ?? row[t + d];
    if (here) return here.limit;
  }
  return 1e-3;
}

/** Amount and chance by the nearest spotted tubes on both sides, the tube itself left out. */
function neighbours(row: readonly (Seen | null)[], t: number): { amount: number; chance: number; distance: number } {
  const side = (step: number) => {
    for (let d = 1; t + d * step >= 0 && t + d * step < row.length; d++) {
      const s = row[t + d * step];
      if (s) return { log: s.chance > 0.5 ? Math.log(s.amount) : Math.log(0.3 * s.limit), chance: s.chance, d };
    }
    return null;
  };
  const before = side(-1);
  const after = side(1);
  if (!before && !after) return { amount: 0, chance: 0.05, distance: row.length };
  if (!before || !after) {
    const only = (before ?? after)!;
    return { amount: Math.exp(only.log - 0.7 * only.d), chance: only.chance * 0.6 ** only.d, distance: only.d };
  }
  const share = after.d / (before.d + after.d);
  return {
    amount: Math.exp(share * before.log + (1 - share) * after.log),
    chance: share * before.chance + (1 - share) * after.chance,
    distance: Math.min(before.d, after.d),
  };
}

/** Chance that a lane without any spot was named but not spotted: all that should be there is missing at once. */
function forgottenChance(
  seen: readonly (readonly (Seen | null)[])[],
  forecasts: readonly (readonly Forecast[])[],
  t: number,
): number {
  let missing = 1;
  for (let k = 0; k < seen.length; k++) {
    const s = seen[k][t];
    if (!s) continue;
    if (s.chance > 0.3) return 0;
    missing *= 1 - prior(s, forecasts[k][t]) * (1 - OVERLOOKED);
  }
  return NEVER_SPOTTED / (NEVER_SPOTTED + (1 - NEVER_SPOTTED) * missing);
}

/** Chance to show before looking at the lane itself: its neighbours and its peak, half each on the log-odds scale. */
function prior(seen: Seen | null, ahead: Forecast): number {
  if (!seen) return ahead.chance;
  const a = Math.log(ahead.chance / (1 - ahead.chance));
  const b = Math.log(seen.expected / (1 - seen.expected));
  return 1 / (1 + Math.exp(-0.5 * (a + b)));
}

function believe(seen: Seen | null, ahead: Forecast, forgotten: number): Belief {
  if (!seen) return { chance: ahead.chance, logMean: ahead.logMean, logSd: Math.hypot(ahead.logSd, SPOTTING) };
  const before = prior(seen, ahead);
  // An expected spot that is not there was overlooked, or is too faint: the fainter, the likelier.
  const margin = Math.max(0, ahead.logMean - Math.log(seen.limit));
  const overlooked = OVERLOOKED + 0.4 * Math.exp(-2 * margin);
  const missed = (before * overlooked) / (before * overlooked + 1 - before);
  const unseen = (1 - forgotten) * missed + forgotten * before;
  const chance = seen.chance + (1 - seen.chance) * unseen;
  const measuredWeight = seen.chance / (seen.logSd ** 2 + (seen.overloaded ? 0.3 ** 2 : 0));
  const aheadWeight = 1 / (ahead.logSd ** 2 + SPOTTING ** 2);
  const measuredLog = seen.amount > 0 ? Math.log(seen.amount) + (seen.overloaded ? 0.2 : 0) : 0;
  const weight = measuredWeight + aheadWeight;
  return {
    chance: Math.min(0.995, chance),
    logMean: (measuredWeight * measuredLog + aheadWeight * ahead.logMean) / weight,
    logSd: 1 / Math.sqrt(weight),
  };
}

function point(seen: Seen | null, belief: Belief, t: number): ProfilePoint {
  const amount = belief.chance * Math.exp(belief.logMean);
  const within = amount * belief.logSd;
  const between = Math.sqrt(belief.chance * (1 - belief.chance)) * Math.exp(belief.logMean);
  return {
    fraction: t + 1,
    amount,
    sd: Math.hypot(within, between),
    measured: seen ? (seen.chance > 0.4 ? seen.amount : 0) : null,
  };
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
