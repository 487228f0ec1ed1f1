import type { Act, Result } from "../model/index.ts";
import { findPlate } from "./plates.ts";

/**
 * What a reading says of the matter of an act, as text in a fixed form: the edge keeps its digest with the act, so that
 * one can tell later whether the plates still say the same. Rounded, so that what nobody would see makes no difference.
 */
export function groundsOf(result: Result, act: Act): string {
  if (act.kind === "mend" && "plate" in act.mending) {
    const plate = findPlate(result, act.mending.plate);
    if (plate === null) return "no such plate";
    const lanes = plate.lanes.map((l) => [l.label, l.x.toFixed(2), l.spots.map((s) => s.rf.toFixed(2))]);
    return JSON.stringify([plate.photos, plate.origin.y.toFixed(2), plate.front.y.toFixed(2), lanes]);
  }
  const components = result.components.map((c) => [c.id, c.rf.toFixed(2)]);
  const tubes = result.fractions.map((f) => [f.number, f.state, Object.keys(f.composition)]);
  return JSON.stringify([components, tubes]);
}
