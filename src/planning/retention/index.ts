import { PlatepoolError } from "../../model/index.ts";

/**
 * Retention factor k = (1 - R)/R of a component whose retardation is R, 0 < rf <= 1 (IUPAC Gold Book R05352:
 * R = 1/(k + 1); ideally Rf on the plate equals R in the column, R05353).
 */
export function retentionFactor(rf: number): number {
  return (1 - rf) / rf;
}

/** Retardation R = 1/(k + 1) for k >= 0 (IUPAC Gold Book R05352). */
export function retardation(k: number): number {
  return 1 / (k + 1);
}

/** Hold-up volumes until the middle of a band is off, isocratic: V_R/V_M = 1 + k = 1/R; rf in (0, 1]. */
export function columnVolumes(rf: number): number {
  return 1 / rf;
}

/** ln k with rf held within 0.01..0.99, where a plate no longer tells how much. */
export function logRetention(rf: number): number {
  return Math.log(retentionFactor(Math.min(0.99, Math.max(0.01, rf))));
}

/** Standard uncertainty of ln k from that of Rf: d ln k = -dR/(R(1 - R)). */
export function logRetentionSd(rf: number, rfSd: number): number {
  const r = Math.min(0.99, Math.max(0.01, rf));
  return rfSd / (r * (1 - r));
}

/**
 * Resolution of two spots, R_S = 1.18 a (R_F2 - R_F1)/(w_h1 + w_h2) (Ph. Eur. 2.2.46, from memory). Widths at half
 * height in units of the way of the front, so that a = 1. Returns 0 where both widths are 0.
 */
export function plateResolution(rfFast: number, rfSlow: number, widthFast: number, widthSlow: number): number {
  return peakResolution(rfFast, rfSlow, widthFast, widthSlow);
}

/** Resolution of two peaks, R_S = 1.18 (t_2 - t_1)/(w_h1 + w_h2), all in one unit (Ph. Eur. 2.2.46). */
export function peakResolution(second: number, first: number, widthSecond: number, widthFirst: number): number {
  const width = widthSecond + widthFirst;
  return width > 0 ? (1.18 * Math.abs(second - first)) / width : 0;
}

/**
 * Resolution expected on a column of `plates` theoretical plates, isocratic: (V2 - V1)/(2 (s1 + s2)) with
 * s = V/sqrt(N). Depends on Rf alone; both rf in (0, 1].
 */
export function columnResolution(rfFast: number, rfSlow: number, plates: number): number {
  const fast = columnVolumes(rfFast);
  const slow = columnVolumes(rfSlow);
  return (Math.sqrt(plates) / 2) * (Math.abs(slow - fast) / (slow + fast));
}

/** Difference of two Rf, >= 0, to 1e-6, so that 0.35 and 0.20 are 0.15 apart. */
export function deltaRf(one: number, other: number): number {
  return Math.round(Math.abs(one - other) * 1e6) / 1e6;
}

/** Throws `rf-out-of-range` unless 0 <= rf <= 1. `what` names the value in the message. */
export function checkRf(rf: number, what: string): void {
  if (!Number.isFinite(rf) || rf < 0 || rf > 1) {
    throw new PlatepoolError(
      "rf-out-of-range",
      `Rf of ${what} is ${rf}; an Rf lies between 0 and 1 (hRf 35 is Rf 0.35). Give it again.`,
    );
  }
}
