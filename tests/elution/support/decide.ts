import { decideElution, type ElutionOptions } from "../../../src/elution/index.ts";
import type { PlateReading } from "../../../src/model/index.ts";
import { drawnPlates } from "./drawing.ts";

/** Decides with the usual options, some of them replaced. */
export function decide(plates: readonly PlateReading[], options: Partial<ElutionOptions> = {}) {
  return decideElution(plates, { fractionCount: null, volumeMl: 10, policy: "balance", want: null, ...options });
}

export function decideDrawn(drawing: string, options: Partial<ElutionOptions> = {}) {
  return decide(drawnPlates(drawing), options);
}
