import type { Spot, SpotResponse } from "../../model/index.ts";
import type { JudgedSpot } from "./secondLook.ts";

/** A spot with a top of its own falls by so much of its height on both sides. */
const TOP = 0.02;
/** A tail is lower than this share of its spot's height, and begins within so many of its widths below it. */
const LOWER = 0.15;
const WIDTHS = 1.2;

/**
 * Whether a candidate is the tail of a stronger spot of its lane: what clings to the sorbent comes after it, towards the origin, low and
 * without a top of its own. Of 14 such that were listed on the plates of nine renderers 13 were no spots.
 * @param lane all candidates of the lane
 */
export function trails({ spot, rise }: JudgedSpot, lane: readonly JudgedSpot[]): boolean {
  if (rise >= TOP) return false;
  const { photo, peak } = clearest(spot);
  return lane.some(({ spot: { rf, widthRf, responses } }) => {
    const below = rf - spot.rf;
    return below > 0 && below < WIDTHS * widthRf && peak < LOWER * responses[photo].peak;
  });
}

function clearest({ responses }: Spot): SpotResponse {
  return responses.reduce((best, one) => (one.contrastToNoise > best.contrastToNoise ? one : best));
}
