import type { PlannedBand, PlannedTube, TubeState } from "../../model/index.ts";
import { bandCdf } from "./bandShape.ts";

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

/** What each of `count` tubes of `fractionMl` should hold, the first beginning at `forerunMl`. */
export function fillTubes(
  bands: readonly PlannedBand[],
  count: number,
  fractionMl: number,
  forerunMl: number,
): readonly PlannedTube[] {
  const off = bands.map((band) => bandCdf(band.retentionMl, band.sdMl));
  return Array.from({ length: count }, (_, i) => {
    const startMl = forerunMl + i * fractionMl;
    const endMl = startMl + fractionMl;
    const amounts = bands.map((band, b) => band.share * (off[b](endMl) - off[b](startMl)));
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
