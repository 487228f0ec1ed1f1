import { upperMedian } from "../../math/median.ts";
import type { Candidate } from "./group.ts";
import { SAME_RF } from "./neighbours.ts";
import type { Peak } from "./peaks.ts";
import { rfOfRow } from "./strip.ts";

/** How far from Rf 0 a candidate may lie to stand on the start line. */
const ON_ORIGIN = 0.03;
/** Marks made by one hand differ in height by no more than this factor. */
const ALIKE = 1.7;

/** Whether a group of candidates, the lead first, stands on the start line. */
function atOrigin(group: readonly Candidate[]): boolean {
  return Math.abs(rfOfRow(group[0].peak.mode)) < ON_ORIGIN;
}

/**
 * Height, in each view, of what many lanes show much alike at the origin; null where there is no such thing. Blurred
 * ticks and crosses are alike, residues differ with the load.
 */
export function commonAtOrigin(groups: readonly Candidate[][][], views: number): (number | null)[] {
  const leads = groups.flatMap((lane) => lane.filter(atOrigin).map(([lead]) => lead));
  return Array.from({ length: views }, (_, view) => {
    const heights = leads.filter((c) => c.view === view).map((c) => c.peak.height);
    const median = upperMedian(heights);
    const like = heights.filter((h) => alike(h, median)).length;
    return like >= 3 && like >= 0.4 * groups.length ? median : null;
  });
}

/** Whether a group stands on the start line and is no stronger than what many lanes show there. */
export function likeMarks(group: readonly Candidate[], common: readonly (number | null)[]): boolean {
  const [lead] = group;
  return atOrigin(group) && lead.peak.height < ALIKE * (common[lead.view] ?? 0);
}

function alike(height: number, usual: number): boolean {
  return height < ALIKE * usual && usual < ALIKE * height;
}

/** Significance of the clearest candidate at the same Rf in the two neighbouring lanes. */
export function besideOf(groups: readonly Candidate[][][], lane: number, mode: number): number {
  let most = 0;
  for (const other of [lane - 1, lane + 1])
    for (const group of groups[other] ?? [])
      if (Math.abs(group[0].peak.mode - mode) < SAME_RF) most = Math.max(most, group[0].significance);
  return most;
}

/** How much the tallest near peak overshadows this one: ln(height ratio), fading to 0 at four widths' distance. */
export function shadeOf(peak: Peak, others: readonly Peak[]): number {
  let most = 0;
  for (const o of others) {
    const distance = Math.abs(o.mode - peak.mode) / (4 * Math.exp(Math.max(o.logSigma, peak.logSigma)));
    if (distance < 1 && o.height > peak.height)
      most = Math.max(most, Math.log(o.height / peak.height) * (1 - distance));
  }
  return most;
}
