import { groupSpots } from "../../../src/elution/components/index.ts";
import { judgeTubes } from "../../../src/elution/judge.ts";
import type { ReadingSigns } from "../../../src/elution/pools/calibrationMap.ts";
import { misreadChance } from "../../../src/elution/pools/confidence.ts";
import { labelChance } from "../../../src/elution/pools/index.ts";
import { readingSigns, tubeSignsOf } from "../../../src/elution/pools/misread.ts";
import { poolsUnder } from "../../../src/elution/pools/policies.ts";
import { followComponents } from "../../../src/elution/profiles/index.ts";
import type { PlateReading } from "../../../src/model/index.ts";

/** Chance of the suggested pool of each tube (index 0: tube 1) before calibration, and the signs of a misread plate. */
export function posteriors(
  plates: readonly PlateReading[],
  count: number,
): { chances: number[]; signs: readonly ReadingSigns[] } {
  const grouping = groupSpots(plates);
  const { tubes, unlooked, scatter } = followComponents(plates, grouping, count);
  const signs = tubeSignsOf(readingSigns(plates, grouping, scatter), grouping, count);
  const judged = judgeTubes(
    tubes,
    unlooked,
    signs.map((s) => misreadChance(s)),
  );
  const weights = grouping.rf.map(() => 1);
  const chances = poolsUnder("balance", judged, weights).flatMap(({ from, to, label }) =>
    judged.plain.slice(from, to + 1).map((o) => labelChance(o, label)),
  );
  return { chances, signs };
}
