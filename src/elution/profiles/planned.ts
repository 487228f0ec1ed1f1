import type { ExpectedBand } from "../../model/index.ts";

/** Where the plan, brought to the column as it ran, expects the peak of a component: tube, and how surely (sd, tubes). */
export interface PlannedPlace {
  readonly tube: number;
  readonly sd: number;
}

/** A component as the plates show it: its Rf, the tube of its peak, and whether enough tubes show it to settle that. */
export interface SeenPeak {
  readonly rf: number;
  readonly tube: number | null;
  readonly settled: boolean;
}

/** Rf by which a component may differ between the plate that was planned from and those of the fractions. */
const SAME_RF = 0.1;
/** How far a plan is off (log of the tube) before anything was seen, and at best (common practice, no source). */
const UNTRIED = 0.35;
const TRIED = 0.15;
/** Plans further off than this, or in another order, say nothing: log of the tube, all peaks alike and one from another. */
const MOST_OFF = Math.LN2;
const MOST_SCATTER = 0.3;

/**
 * What a plan says of each component's peak. Eluents are never quite those of the plan, so all its tubes are stretched by
 * what the settled peaks show. Where these contradict the plan, the plates stand alone: null for all.
 */
export function plannedPlaces(seen: readonly SeenPeak[], plan: readonly ExpectedBand[]): (PlannedPlace | null)[] {
  const bands = matched(seen, plan);
  const known = seen.flatMap(({ tube, settled }, k) => {
    const band = bands[k];
    return band && settled && tube !== null && tube > 0
      ? [{ planned: band.tube, log: Math.log(tube / band.tube) }]
      : [];
  });
  const logs = known.map((s) => s.log);
  const stretch = logs.length > 0 ? logs.reduce((s, v) => s + v, 0) / logs.length : 0;
  const scatter = Math.sqrt(logs.reduce((s, v) => s + (v - stretch) ** 2, 0) / Math.max(1, logs.length - 1));
  const upset = known.some((a) =>
    known.some((b) => a.planned < b.planned && a.planned * Math.exp(a.log) > b.planned * Math.exp(b.log) + 1),
  );
  if (Math.abs(stretch) > MOST_OFF || scatter > MOST_SCATTER || upset) return seen.map(() => null);
  const doubt = known.length > 0 ? Math.max(TRIED, scatter, UNTRIED / (1 + known.length)) : UNTRIED;
  return bands.map((band) => {
    if (!band) return null;
    const tube = band.tube * Math.exp(stretch);
    return { tube, sd: Math.hypot(doubt * tube, band.sd) };
  });
}

/** The planned band of each component: the nearest in Rf first, each band once. */
function matched(seen: readonly SeenPeak[], plan: readonly ExpectedBand[]): (ExpectedBand | null)[] {
  const out: (ExpectedBand | null)[] = seen.map(() => null);
  const used = new Set<ExpectedBand>();
  const pairs = seen
    .flatMap(({ rf }, k) => plan.map((band) => ({ k, band, off: Math.abs(band.rf - rf) })))
    .filter(({ off, band }) => off <= SAME_RF && band.tube > 0)
    .sort((a, b) => a.off - b.off || a.k - b.k);
  for (const { k, band } of pairs) {
    if (out[k] || used.has(band)) continue;
    out[k] = band;
    used.add(band);
  }
  return out;
}
