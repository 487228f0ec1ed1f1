import type { PlannedBand, PlannedTube, TubeState } from "../../model/index.ts";
import type { BandCdf } from "./bandShape.ts";

/** A tube is clean where one component makes up 95 % of what it holds. Common practice, no source. */
export const CLEAN_SHARE = 0.95;
/** Share of the whole load below which a plate shows nothing of a tube. Common practice, no source. */
const VISIBLE = 0.002;

/** State of a tube from the shares of the load it holds. */
export function tubeState(amounts: readonly number[]): TubeState {
  const total = amounts.reduce((a, b) => a + b, 0);
  if (total < VISIBLE) return "empty";
  return Math.max(...amounts) / total >= CLEAN_SHARE ? "clean" : "mixed";
}

/** A band with what of it is off after some mL. */
export type LeavingBand = Pick<PlannedBand, "component" | "share"> & { readonly off: BandCdf };

/** What each of `count` tubes of `fractionMl` should hold, the first beginning at `forerunMl`. */
export function fillTubes(
  bands: readonly LeavingBand[],
  count: number,
  fractionMl: number,
  forerunMl: number,
): readonly PlannedTube[] {
  return Array.from({ length: count }, (_, i) => {
    const startMl = forerunMl + i * fractionMl;
    const endMl = startMl + fractionMl;
    const amounts = bands.map(({ share, off }) => share * (off(endMl) - off(startMl)));
    const amount = amounts.reduce((a, b) => a + b, 0);
    const state = tubeState(amounts);
    const composition: Record<string, number> = {};
    if (state !== "empty")
      bands.forEach((band, b) => {
        if (amounts[b] / amount >= 0.001) composition[band.component] = amounts[b] / amount;
      });
    return { number: i + 1, startMl, endMl, composition, amount, state };
  });
}
