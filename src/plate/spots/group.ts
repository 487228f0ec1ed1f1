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

/** A peak so many times as wide as another in another photo is no spot of its: a streak glows along the lane where a spot is stained. */
const UNLIKE = 2.5;

/** Peaks of all aspects in one lane, those at one place together; the clearest of each group first. */
export function groupCandidates(candidates: readonly Candidate[]): Candidate[][] {
  const sorted = [...candidates].sort((a, b) => b.significance - a.significance || a.view - b.view);
  const groups: Candidate[][] = [];
  for (const candidate of sorted) {
    const home = groups.find(
      (g) =>
        !g.some((c) => c.view === candidate.view) &&
        !unlike(g[0], candidate) &&
        Math.abs(g[0].peak.mode - candidate.peak.mode) < Math.max(4, 0.6 * Math.exp(g[0].peak.logSigma)),
    );
    if (home) home.push(candidate);
    else if (
      !groups.some((g) => !unlike(g[0], candidate) && Math.abs(g[0].peak.mode - candidate.peak.mode) < ONE_PLACE)
    )
      groups.push([candidate]);
  }
  return groups;
}

/** Whether a clearer peak of another photo is a streak, and this one a spot on it. */
function unlike(lead: Candidate, { peak, photo }: Candidate): boolean {
  return lead.photo !== photo && lead.peak.logSigma - peak.logSigma > Math.log(UNLIKE);
}
