import type { Candidate } from "./group.ts";
import { type Peak, sigmaBack, sigmaFront } from "./peaks.ts";

/** How unlike the two halves of a ring may be, the greater over the lesser: their distances from the core, their heights. */
const UNEVEN = { distance: 1.5, height: 2 };
/** Height over noise of each half, and the least share of it that the core has: a faint peak between two clear ones is no core. */
const CLEAR = { half: 20, core: 0.5 };

/**
 * Takes the halves of rings off a lane's candidates. A spot that both glows and absorbs shows a core of one sign in a
 * ring of the other: along its lane a peak between two flanks that are as far from it, as high, and seen in another
 * mix or photo. They are one spot; three substances hardly ever stand like that.
 * @param groups a lane's candidates, each with its clearest appearance first
 */
export function withoutFlanks(groups: readonly Candidate[][]): Candidate[][] {
  const flanks = new Set<Candidate[]>();
  for (const [core] of groups) {
    const near = groups.filter(([c]) => c.view !== core.view && touching(c.peak, core.peak));
    for (const below of near)
      for (const above of near)
        if (ringed(core, below[0], above[0])) {
          flanks.add(below);
          flanks.add(above);
        }
  }
  return groups.filter((g) => !flanks.has(g));
}

function ringed(core: Candidate, below: Candidate, above: Candidate): boolean {
  const [down, up] = [core.peak.mode - below.peak.mode, above.peak.mode - core.peak.mode];
  if (below.view !== above.view || down <= 0 || up <= 0) return false;
  return (
    ratio(down, up) < UNEVEN.distance &&
    ratio(below.peak.height, above.peak.height) < UNEVEN.height &&
    Math.min(below.significance, above.significance) > CLEAR.half &&
    core.significance > CLEAR.core * Math.max(below.significance, above.significance)
  );
}

function ratio(a: number, b: number): number {
  return Math.max(a, b) / Math.min(a, b);
}

/** Half heights that meet, or nearly. */
function touching(a: Peak, b: Peak): boolean {
  const [low, high] = a.mode < b.mode ? [a, b] : [b, a];
  return high.mode - low.mode < 1.5 * (sigmaFront(low) + sigmaBack(high));
}
