import type { ColumnPlan, Result, TubeEvidence, TubeLog } from "../../model/index.ts";
import { bandCdf, tubeState } from "../column/index.ts";
import type { BandShape } from "./found.ts";
import type { MatchedBand } from "./match.ts";

/** Below this confidence a photo leaves room for what the plan says. */
const SURE = 0.75;

/**
 * What the plan lets expect of each tube, once shifted and widened to where the bands were found, beside what the
 * photos say. Where a lane shows the tube, the photos win; where none does, or it is doubtful, the plan helps.
 */
export function tubeEvidence(
  plan: ColumnPlan,
  result: Result,
  log: TubeLog,
  matches: readonly MatchedBand[],
  shapes: readonly (BandShape | null)[],
  middle: number,
): readonly TubeEvidence[] {
  const bands = matches.flatMap(({ planned }, i) => {
    if (!planned) return [];
    const shape = shapes[i];
    const centre = shape?.meanMl ?? plan.holdUpMl + (planned.retentionMl - plan.holdUpMl) * middle;
    const off = bandCdf(Math.max(1e-6, centre), shape ? Math.max(shape.sdMl, planned.sdMl * 0.5) : planned.sdMl);
    return [{ off, share: planned.share }];
  });
  return log.tubes.map((tube) => {
    const expected = tubeState(bands.map((band) => band.share * (band.off(tube.endMl) - band.off(tube.startMl))));
    const fraction = result.fractions.find((f) => f.number === tube.number);
    const photos = fraction?.state ?? null;
    const sure = fraction?.seen === true && fraction.confidence >= SURE;
    const verdict = photos === expected ? "agree" : sure ? "photos-win" : "plan-helps";
    return { number: tube.number, photos, plan: expected, verdict };
  });
}
