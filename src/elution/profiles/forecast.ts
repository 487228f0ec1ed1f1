import { normalCdf } from "../../math/normal.ts";
import type { ExpectedBand } from "../../model/index.ts";
import { type PlannedPlace, plannedPlaces } from "./planned.ts";
import { mainRun, type Run } from "./runs.ts";
import { fitTailedPeak, type Measurement, peakTube, type ShapePrior, type TailedPeak } from "./tailedPeak.ts";
import { blindTubes, shows, type TubeSign, usualLimit } from "./tubeSigns.ts";

/** What the other tubes lead one to expect of a component in a tube. */
export interface Forecast {
  readonly logMean: number;
  readonly logSd: number;
  /** Chance that it would show. */
  readonly chance: number;
}

/** A peak that scatters more than this about the amounts does not describe them. */
const MOST_SCATTER = 0.5;
/** What amounts are taken to scatter where no peak describes them. */
const NO_PEAK_SCATTER = 0.6;
/** Tubes that must show a component for its profile to be called a fitted peak. */
const LEAST_POINTS = 4;

/** Width of a peak over the spread of the tubes that show it, its tail left out; tail over width. */
const SIGMA_SHARE = 0.85;
const TAIL = 0.5;

export interface Track {
  readonly peak: TailedPeak | null;
  /** True where the peak describes the amounts well enough to stand for them. */
  readonly fitted: boolean;
  readonly forecasts: readonly Forecast[];
  /** Of amounts about the peak, log scale; where none fits, what is usual then. */
  readonly scatter: number;
  /** Smallest amount that usually shows, in the light that shows the component best. */
  readonly limit: number;
  /** [tube - 1] smallest amount that would be found in its lanes; where nobody spotted it, that would count as visible in the nearest that somebody did. */
  readonly limits: readonly number[];
}

/** A plan, and the Rf of each component to match it by. */
export interface PlanToMatch {
  readonly bands: readonly ExpectedBand[];
  readonly rf: readonly number[];
}

/**
 * Tailed peaks of all components, and forecasts from them, or from the neighbours where no peak fits.
 * @param plan null: nobody planned
 */
export function tracks(
  rows: readonly (readonly (TubeSign | null)[])[],
  tubes: number,
  plan: PlanToMatch | null = null,
): Track[] {
  const limits = rows.map(usualLimit);
  const blind = rows.map(blindTubes);
  const whole = rows.map((row, k) => measurements(row, blind[k]));
  const alone = usualShape(whole, tubes);
  const runs = whole.map((all) => {
    const peak = fitTailedPeak(all, alone);
    if (peak === null || peak.logSd < MOST_SCATTER) return { points: all, peak, strays: [] };
    // A substance elutes once: what shows it elsewhere as well is no part of its peak.
    const { points, strays } = mainRun(all);
    return strays.length > 0 ? { points, peak: fitTailedPeak(points, alone), strays } : { points, peak, strays };
  });
  const points = runs.map((r) => r.points);
  const first = runs.map((r) => r.peak);
  const shared = sharedShape(points, first, alone);
  const places = plan ? plannedBy(plan, points, first) : null;
  return rows.map((row, k) => {
    const peak = fitTailedPeak(points[k], shared, places?.[k]);
    const good = peak !== null && peak.logSd < MOST_SCATTER;
    const fitted = good && points[k].filter((p) => p.amount > 0).length >= LEAST_POINTS;
    const limit = limits[k];
    const local = row.map((own, t) => own?.limit ?? visibleBeside(row, t) ?? limit);
    const forecasts = row.map((_, t) =>
      good && !within(runs[k].strays, t + 1)
        ? byPeak(row, blind[k], limit, local[t], peak, t)
        : byNeighbours(row, blind[k], limit, local[t], t),
    );
    return {
      peak: good ? peak : null,
      fitted,
      forecasts,
      scatter: good ? peak.logSd : NO_PEAK_SCATTER,
      limit,
      limits: local,
    };
  });
}

/** True inside a stretch of tubes, its ends left out: what shows a component on both sides of a tube is no stray for it. */
function within(strays: readonly Run[], tube: number): boolean {
  return strays.some(({ from, to }) => tube > from && tube < to);
}

/** What counts as visible between the nearest spotted tubes on both sides, of a tube nobody spotted; null where none is spotted. */
function visibleBeside(row: readonly (TubeSign | null)[], t: number): number | null {
  let weight = 0;
  let sum = 0;
  for (const step of [-1, 1]) {
    for (let d = 1; t + d * step >= 0 && t + d * step < row.length; d++) {
      const sign = row[t + d * step];
      if (!sign) continue;
      weight += 1 / d;
      sum += Math.log(sign.visibleFrom) / d;
      break;
    }
  }
  return weight > 0 ? Math.exp(sum / weight) : null;
}

function plannedBy(
  { bands, rf }: PlanToMatch,
  points: readonly (readonly Measurement[])[],
  peaks: readonly (TailedPeak | null)[],
): (PlannedPlace | null)[] {
  const seen = peaks.map((peak, k) => ({
    rf: rf[k],
    tube: peak && peakTube(peak.mu, peak.tau),
    settled: peak !== null && peak.logSd < MOST_SCATTER && points[k].filter((p) => p.amount > 0).length >= LEAST_POINTS,
  }));
  return plannedPlaces(seen, bands);
}

function measurements(row: readonly (TubeSign | null)[], blind: readonly boolean[]): Measurement[] {
  return row.flatMap((s, t) =>
    s && !blind[t] ? [{ tube: t + 1, amount: shows(s) ? s.amount : 0, limit: s.limit }] : [],
  );
}

/**
 * Shapes to be expected: width by the median over components seen in three tubes or more, else by the size of the run;
 * tail a half of the width (common practice, no source).
 */
function usualShape(points: readonly (readonly Measurement[])[], tubes: number): ShapePrior {
  const widths = points.flatMap((row) => {
    const shown = row.filter((p) => p.amount > 0);
    if (shown.length < 3) return [];
    const total = shown.reduce((s, p) => s + p.amount, 0);
    const mean = shown.reduce((s, p) => s + p.amount * p.tube, 0) / total;
    return [Math.sqrt(shown.reduce((s, p) => s + p.amount * (p.tube - mean) ** 2, 0) / total)];
  });
  const usual = 0.5 + 0.03 * tubes;
  const all = [...widths, usual].sort((a, b) => a - b);
  const sigma = Math.min(6, Math.max(0.5, SIGMA_SHARE * all[all.length >> 1]));
  return { logSigma: Math.log(sigma), logSigmaSd: 0.5, logTail: Math.log(TAIL), logTailSd: 0.8 };
}

/**
 * Peaks of one column are of one kind: width and tail of those that many tubes show tell what to expect of the others.
 * Means shrunk to the usual shape as if one more peak had it; sds no smaller than peaks of one column differ.
 */
function sharedShape(
  points: readonly (readonly Measurement[])[],
  peaks: readonly (TailedPeak | null)[],
  usual: ShapePrior,
): ShapePrior {
  const known = peaks.flatMap((peak, k) =>
    peak && peak.logSd < MOST_SCATTER && points[k].filter((p) => p.amount > 0).length >= LEAST_POINTS ? [peak] : [],
  );
  const shrunk = (values: readonly number[], mean: number, sd: number, least: number) => {
    const n = values.length;
    const to = (values.reduce((s, v) => s + v, 0) + mean) / (n + 1);
    const squares = values.reduce((s, v) => s + (v - to) ** 2, 0) + sd * sd;
    return [to, Math.max(least, Math.sqrt(squares / (n + 1)))];
  };
  const [logSigma, logSigmaSd] = shrunk(
    known.map((p) => Math.log(p.sigma)),
    usual.logSigma,
    usual.logSigmaSd,
    0.3,
  );
  const [logTail, logTailSd] = shrunk(
    known.map((p) => Math.log(p.tau / p.sigma)),
    usual.logTail,
    usual.logTailSd,
    0.4,
  );
  return { logSigma, logSigmaSd, logTail, logTailSd };
}

function byPeak(
  row: readonly (TubeSign | null)[],
  blind: readonly boolean[],
  limit: number,
  local: number,
  peak: TailedPeak,
  t: number,
): Forecast {
  const floor = 0.003 * limit;
  const amount = peak.at(t + 1);
  const logMean = Math.log(amount + floor);
  const ofPeak = (amount / (amount + floor)) * Math.min(3, peak.logSdAt(t + 1));
  const logSd = Math.hypot(peak.logSd, 0.05 * Math.min(4, distance(row, blind, t)), ofPeak);
  return { logMean, logSd, chance: showChance(logMean, logSd, local) };
}

/** Tubes to the nearest that says something, the tube itself left out. */
function distance(row: readonly (TubeSign | null)[], blind: readonly boolean[], t: number): number {
  for (let d = 1; d < row.length; d++) if ((row[t - d] && !blind[t - d]) || (row[t + d] && !blind[t + d])) return d;
  return row.length;
}

function showChance(logMean: number, logSd: number, limit: number): number {
  return Math.min(0.998, Math.max(0.002, normalCdf((logMean - Math.log(limit)) / logSd)));
}

/** Log amount between the nearest telling tubes on both sides, fading outwards where there is one side only. */
function byNeighbours(
  row: readonly (TubeSign | null)[],
  blind: readonly boolean[],
  limit: number,
  local: number,
  t: number,
): Forecast {
  const side = (step: number) => {
    for (let d = 1; t + d * step >= 0 && t + d * step < row.length; d++) {
      const s = row[t + d * step];
      if (s && !blind[t + d * step])
        return { log: shows(s) ? Math.log(s.amount) : Math.log(0.3 * s.limit), chance: s.chance, d };
    }
    return null;
  };
  const before = side(-1);
  const after = side(1);
  if (!before && !after) return { logMean: Math.log(0.05 * limit), logSd: 1, chance: 0.05 };
  if (!before || !after) {
    const only = (before ?? after)!;
    const logMean = only.log - 0.7 * only.d;
    return { logMean, logSd: 0.5 + 0.25 * only.d, chance: Math.max(0.003, only.chance * 0.6 ** only.d) };
  }
  const share = after.d / (before.d + after.d);
  const logMean = share * before.log + (1 - share) * after.log;
  const logSd = 0.4 + 0.2 * Math.min(before.d, after.d);
  return { logMean, logSd, chance: showChance(logMean, logSd, local) };
}
