import type { ColumnRequest, PlannedBand, PlannedPair } from "../../model/index.ts";
import { deltaRf } from "../retention/index.ts";
import { elutionQuantile } from "./bandShape.ts";
import { elute } from "./elute.ts";

/** Hold-up volumes after which a band is left on the column, unless it is wanted. Common practice, no source. */
const PATIENCE = 12;
/** The middle 95 % of a band counts as where it comes. */
const Z95 = 1.96;

/** Bands in the order they come off. Tube numbers count from the forerun on and may lie beyond the last tube. */
export function planBands(
  request: ColumnRequest,
  holdUpMl: number,
  plates: number,
  fractionMl: number,
): readonly PlannedBand[] {
  const ids = Object.keys(request.steps[0].rf);
  const amount = (id: string) => request.amounts[id] ?? (Object.keys(request.amounts).length > 0 ? 0 : 1);
  const total = ids.reduce((sum, id) => sum + amount(id), 0);
  const tubeAt = (ml: number) => Math.max(1, Math.floor((ml - request.forerunMl) / fractionMl) + 1);
  return ids
    .map((component) => {
      const elution = elute(component, request.steps, holdUpMl, plates);
      const { retentionMl, sdMl, step } = elution;
      const fromMl = elutionQuantile(elution, -Z95);
      const toMl = elutionQuantile(elution, Z95);
      const columnVolumes = retentionMl / holdUpMl;
      return {
        component,
        name: request.names[component] ?? null,
        retentionMl,
        sdMl,
        fromMl,
        toMl,
        columnVolumes,
        peakTube: tubeAt(retentionMl),
        firstTube: tubeAt(fromMl),
        lastTube: tubeAt(toMl),
        step,
        share: total > 0 ? amount(component) / total : 1 / ids.length,
        collected: columnVolumes <= PATIENCE || component === request.want,
      };
    })
    .sort((a, b) => a.retentionMl - b.retentionMl);
}

/** Neighbours in the order they come off, with how far apart they are. */
export function planPairs(
  request: ColumnRequest,
  bands: readonly PlannedBand[],
  holdUpMl: number,
): readonly PlannedPair[] {
  return bands.slice(1).map((slow, i) => {
    const fast = bands[i];
    const rf = request.steps[fast.step].rf;
    return {
      fast: fast.component,
      slow: slow.component,
      deltaRf: deltaRf(rf[fast.component], rf[slow.component]),
      gapMl: slow.retentionMl - fast.retentionMl,
      columnVolumes: (slow.retentionMl - fast.retentionMl) / holdUpMl,
      resolution: (slow.retentionMl - fast.retentionMl) / (2 * (fast.sdMl + slow.sdMl)),
    };
  });
}
