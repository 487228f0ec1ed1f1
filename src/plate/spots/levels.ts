import { FROM, TO, type WeighedProfile } from "./detect.ts";
import { costOf, fitPeaks, type PeakPrior } from "./fitPeaks.ts";
import { courseOf, heightAt, type Peak } from "./peaks.ts";

/** A spot that shows where a substance stands in its lane: so sure, hardly broader than usual (ln; two may be one there), off the start line. */
const CLEAR = { confidence: 0.97, stretch: 0.35, rf: 0.05 };
/** Tubes so many lanes away hold nearly the same. */
const LANES = 2;
/** Rows within which spots stand at one level, and within which a peak stays that was put at it. */
const LEVEL = 6;
const STAYS = 5;
/** Two levels within so many rows of a peak's mode may be its two spots. */
const BETWEEN = 12;
/** A level lies within a peak where that is still so high there, as a share of its height. */
const WITHIN = 0.1;
/** Fall in cost that buys a peak at a level: less than one anywhere, for the level is known beforehand. */
const EVIDENCE = 3;
/** No peak is lower, in deviations of the noise. */
const LEAST = 1.6;

/** A candidate of a lane, as far as it shows a level. */
export interface Standing {
  /** Row of its mode. */
  readonly mode: number;
  readonly spot: { readonly confidence: number; readonly rf: number };
  readonly features: { readonly stretch: number };
}

/** Rows at which clear spots of the lanes beside a lane stand, the nearest lanes' first. */
export function levelsBeside(lanes: readonly (readonly Standing[])[], lane: number): number[] {
  const levels: { row: number; of: number }[] = [];
  for (let far = 1; far <= LANES; far++)
    for (const beside of [lane - far, lane + far])
      for (const { mode } of (lanes[beside] ?? []).filter(isClear)) {
        const same = levels.find(({ row }) => Math.abs(row - mode) < LEVEL);
        if (!same) levels.push({ row: mode, of: 1 });
        else {
          same.row = (same.row * same.of + mode) / (same.of + 1);
          same.of++;
        }
      }
  return levels.map(({ row }) => row);
}

function isClear({ spot, features }: Standing): boolean {
  return spot.confidence >= CLEAR.confidence && spot.rf > CLEAR.rf && features.stretch < CLEAR.stretch;
}

/** The peaks of a lane, and which of them were put at a level. */
export interface Parted {
  readonly peaks: readonly Peak[];
  readonly put: readonly Peak[];
}

/**
 * Parts spots that run into one another where the lanes beside tell the places: what a lane shows as one broad or leaning peak may be
 * two substances that stand apart in the tubes before and after.
 * @param levels rows at which clear spots of the lanes beside stand
 * @returns null where the lane shows no more than its peaks
 */
export function partedAt(
  lane: WeighedProfile,
  peaks: readonly Peak[],
  levels: readonly number[],
  prior: PeakPrior,
): Parted | null {
  const { profile, variance, noise } = lane;
  let best = { peaks, cost: costOf(profile, variance, peaks, prior, FROM, TO) };
  const at: number[] = [];
  for (const level of levels.filter((row) => isWithin(row, peaks))) {
    if (!isFree(level, best.peaks)) continue;
    for (const { start, rows } of startsAt(level, levels, lane, best.peaks, prior)) {
      const fit = fitPeaks(profile, variance, start, prior, FROM, TO);
      const stays = rows.every((row) => fit.peaks.some(({ mode }) => Math.abs(mode - row) <= STAYS));
      const high = fit.peaks.every(({ height, mode }) => height > LEAST * noise[Math.round(mode)]);
      const more = start.length - best.peaks.length;
      if (!stays || !high || best.cost - fit.cost <= EVIDENCE * more) continue;
      best = fit;
      at.push(level);
      break;
    }
  }
  if (at.length === 0) return null;
  const nearest = (row: number) =>
    best.peaks.reduce((a, b) => (Math.abs(b.mode - row) < Math.abs(a.mode - row) ? b : a));
  return { peaks: [...best.peaks].sort((a, b) => a.mode - b.mode), put: at.map(nearest) };
}

function isFree(row: number, peaks: readonly Peak[]): boolean {
  return peaks.every(({ mode }) => Math.abs(mode - row) >= LEVEL);
}

function isWithin(row: number, peaks: readonly Peak[]): boolean {
  return isFree(row, peaks) && peaks.some((p) => heightAt(courseOf(p), row) > WITHIN * p.height);
}

/** What to begin fits from: a further peak at the level, or one there and one at another level in the stead of that between them. */
function startsAt(
  level: number,
  levels: readonly number[],
  { smooth }: WeighedProfile,
  peaks: readonly Peak[],
  prior: PeakPrior,
): { readonly start: readonly Peak[]; readonly rows: readonly number[] }[] {
  const peakAt = (row: number, share: number): Peak => {
    const height = Math.max(1e-6, share * smooth[Math.round(row)]);
    return { height, mode: row, logSigma: prior.logSigma, tail: prior.tail, flat: 0.02 };
  };
  const heightThere = (p: Peak) => heightAt(courseOf(p), level);
  const over = peaks.reduce((a, b) => (heightThere(b) > heightThere(a) ? b : a));
  const others = peaks.filter((p) => p !== over);
  const second = levels.filter(
    (row) => Math.abs(row - level) > LEVEL && Math.abs(row - over.mode) < BETWEEN && isFree(row, others),
  );
  return [
    { start: [...peaks, peakAt(level, 0.5)], rows: [level] },
    ...second.map((row) => ({ start: [...others, peakAt(level, 0.8), peakAt(row, 0.8)], rows: [level, row] })),
  ];
}
