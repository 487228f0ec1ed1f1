import { normalCdf } from "../../math/normal.ts";
import { fitTailedPeak, type Measurement, type TailedPeak } from "./tailedPeak.ts";
import { blindTubes, shows, type TubeSign, usualLimit } from "./tubeSigns.ts";

/** What the other tubes lead one to expect of a component in a tube. */
export interface Forecast {
  readonly logMean: number;
  readonly logSd: number;
  /** Chance that it would show. */
  readonly chance: number;
}

/** A peak that scatters more than this about the amounts does not describe them. */
const MOST_SCATTER = 0.6;
/** Tubes that must show a component for its profile to be called a fitted peak. */
const LEAST_POINTS = 4;

/** How well the place of a peak is known, in tubes; and how much worse per tube beyond the last that tells, where that one shows it. */
const PLACE_SD = 0.2;
const PLACE_SD_BEYOND = 0.5;

export interface Track {
  readonly peak: TailedPeak | null;
  /** True where the peak describes the amounts well enough to stand for them. */
  readonly fitted: boolean;
  readonly forecasts: readonly Forecast[];
  /** Smallest amount that usually shows, in the light that shows the component best. */
  readonly limit: number;
}

/** Tailed peaks of all components, and forecasts from them, or from the neighbours where no peak fits. */
export function tracks(rows: readonly (readonly (TubeSign | null)[])[], tubes: number): Track[] {
  const limits = rows.map(usualLimit);
  const blind = rows.map(blindTubes);
  const points = rows.map((row, k) => measurements(row, blind[k]));
  const sigma = usualSigma(points, tubes);
  return rows.map((row, k) => {
    const peak = fitTailedPeak(points[k], sigma);
    const good = peak !== null && peak.logSd < MOST_SCATTER;
    const fitted = good && points[k].filter((p) => p.amount > 0).length >= LEAST_POINTS;
    const forecasts = row.map((_, t) =>
      good ? byPeak(row, blind[k], limits[k], peak, t) : byNeighbours(row, blind[k], limits[k], t),
    );
    return { peak: good ? peak : null, fitted, forecasts, limit: limits[k] };
  });
}

function measurements(row: readonly (TubeSign | null)[], blind: readonly boolean[]): Measurement[] {
  return row.flatMap((s, t) =>
    s && !blind[t] ? [{ tube: t + 1, amount: shows(s) ? s.amount : 0, limit: s.limit }] : [],
  );
}

/** Typical width of this run's peaks: median over components seen in three tubes or more; else by the size of the run. */
function usualSigma(points: readonly (readonly Measurement[])[], tubes: number): number {
  const widths = points.flatMap((row) => {
    const shown = row.filter((p) => p.amount > 0);
    if (shown.length < 3) return [];
    const total = shown.reduce((s, p) => s + p.amount, 0);
    const mean = shown.reduce((s, p) => s + p.amount * p.tube, 0) / total;
    return [Math.sqrt(shown.reduce((s, p) => s + p.amount * (p.tube - mean) ** 2, 0) / total)];
  });
  const usual = 0.5 + 0.03 * tubes;
  const all = [...widths, usual].sort((a, b) => a - b);
  return Math.min(6, Math.max(0.5, 0.75 * all[all.length >> 1]));
}

function byPeak(
  row: readonly (TubeSign | null)[],
  blind: readonly boolean[],
  limit: number,
  peak: TailedPeak,
  t: number,
): Forecast {
  const floor = 0.003 * limit;
  const logMean = Math.log(peak.at(t + 1) + floor);
  // On a steep flank a small shift of the peak makes a large difference.
  const slope = Math.abs(Math.log((peak.at(t + 1.5) + floor) / (peak.at(t + 0.5) + floor)));
  const logSd = Math.hypot(
    peak.logSd,
    0.15 + 0.2 * Math.min(4, distance(row, blind, t)),
    (PLACE_SD + PLACE_SD_BEYOND * beyond(row, blind, t)) * slope,
  );
  return { logMean, logSd, chance: showChance(logMean, logSd, limit) };
}

/** Tubes from the outermost that tells, where it shows the component: how the peak goes on from there nobody knows; else 0. */
function beyond(row: readonly (TubeSign | null)[], blind: readonly boolean[], t: number): number {
  const telling = row.flatMap((s, i) => (s && !blind[i] ? [i] : []));
  const first = telling[0];
  const last = telling[telling.length - 1];
  if (first === undefined) return 0;
  const edge = t > last ? last : t < first ? first : null;
  return edge !== null && shows(row[edge]!) ? Math.abs(t - edge) : 0;
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
  return { logMean, logSd, chance: showChance(logMean, logSd, limit) };
}
