import type { Peak } from "./peaks.ts";

/** A peak in one aspect of one photo. */
export interface Candidate {
  readonly peak: Peak;
  /** Index of the aspect. */
  readonly view: number;
  /** Index of the photo. */
  readonly photo: number;
  /** Height over the noise there. */
  readonly significance: number;
}

/** Rows within which two peaks cannot be two spots, though one aspect shows both: a narrow one and its wide foot. */
const ONE_PLACE = 7;

/** Peaks of all aspects in one lane, those at one place together; the clearest of each group first. */
export function groupCandidates(candidates: readonly Candidate[]): Candidate[][] {
  const sorted = [...candidates].sort((a, b) => b.significance - a.significance || a.view - b.view);
  const groups: Candidate[][] = [];
  for (const candidate of sorted) {
    const home = groups.find(
      (g) =>
        !g.some((c) => c.view === candidate.view) &&
        Math.abs(g[0].peak.mode - candidate.peak.mode) < Math.max(4, 0.6 * Math.exp(g[0].peak.logSigma)),
    );
    if (home) home.push(candidate);
    else if (!groups.some((g) => Math.abs(g[0].peak.mode - candidate.peak.mode) < ONE_PLACE)) groups.push([candidate]);
  }
  return groups;
}
