import { MISREAD, SEEN_MAP, UNSEEN_MAP } from "./calibrationConstants.ts";
import type { CalibrationMap, MisreadMap, ReadingSigns } from "./calibrationMap.ts";

/** Confidences are kept this far from 0 and 1: no plate makes certain. */
const EDGE = 0.002;
/** How often a pool is right though its plates were misread. */
export const GUESS = 0.4;
/** Share of the tubes of a plate on wrong lines that are as good as misread; the others show the same on any lines. Fitted. */
const BY_WRONG_LINES = 0.7;

/**
 * Calibrated confidence from the posterior probability p of the suggested pool: logistic in ln p and ln(1 - p) (beta
 * calibration: Kull, Silva Filho, Flach 2017, AISTATS, from memory), which can bend either end and keeps the order; no
 * more than a guess with the chance that the plates were misread. The constants are fitted by tests/bench/calibration.ts
 * on runs that are not those it is judged on.
 * @param misread chance that the tube's plate was misread
 */
export function confidenceOf(posterior: number, seen: boolean, misread: number): number {
  const confidence = (1 - misread) * calibrated(posterior, seen ? SEEN_MAP : UNSEEN_MAP) + misread * GUESS;
  return Math.min(1 - EDGE, Math.max(EDGE, confidence));
}

/**
 * A tube nobody spotted is inferred from the nearest that somebody did, and never surer than the surer of those in its pool.
 * @param confidences of the tubes of one pool, in order; `seen`: which of them were spotted
 */
export function noSurerThanSpotted(confidences: readonly number[], seen: readonly boolean[]): number[] {
  return confidences.map((confidence, i) => {
    const spotted = [seen.lastIndexOf(true, i), seen.indexOf(true, i)].filter((at) => at >= 0);
    return spotted.length > 0 ? Math.min(confidence, Math.max(...spotted.map((at) => confidences[at]))) : confidence;
  });
}

/** Chance that a tube's plate was misread, by its lines or by its look. */
export function misreadChance(signs: ReadingSigns, map: MisreadMap = MISREAD): number {
  return 1 - (1 - misreadByLook(signs, map)) * (1 - BY_WRONG_LINES * signs.linesWrong);
}

/**
 * Chance that lanes or spots were taken for others or overlooked: amounts then jump from tube to tube, spots are doubtful
 * and fit no component; it happens more the more a photo is blurred and the fainter its spots are.
 */
export function misreadByLook(signs: ReadingSigns, map: MisreadMap): number {
  const logit =
    map.base +
    map.perScatter * signs.scatter +
    map.perDoubt * signs.doubt +
    map.perUnexplained * signs.unexplained +
    map.perBlur * signs.blur +
    map.perFaintness * signs.faintness;
  return 1 / (1 + Math.exp(-logit));
}

/** A probability through a calibration map. */
export function calibrated(p: number, map: CalibrationMap): number {
  const kept = Math.min(1 - 1e-5, Math.max(1e-5, p));
  return 1 / (1 + Math.exp(-(map.a * Math.log(kept) - map.b * Math.log(1 - kept) + map.c)));
}
