/**
 * Draws runs, reads them and keeps, for every tube that counts, the chance of its pool before calibration and whether the
 * pool was right: what tests/bench/calibration.ts --fit fits the confidence map to.
 *   npx tsx tests/bench/tubePairs.ts [--runs 9]
 * Seeds from 8610 on, easy, normal and hard, are for this and nothing else. Rewrites our own part of support/tubePairs.csv.
 */
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { parseArgs } from "node:util";
import { readFolder } from "../../src/cli/reading/readFolder.ts";
import { openPool } from "../../src/cli/workers/pool.ts";
import { posteriors } from "../elution/support/posteriors.ts";
import { scoreRun } from "./metrics/run.ts";
import { readPairs, type TubePair, writePairs } from "./support/pairsFile.ts";
import { writeRun } from "./support/write-run.ts";

const FIRST_SEED = 8610;
const SETTINGS = { policy: "balance", want: null } as const;
const SILENT = { step: () => undefined, clear: () => undefined };

const { values } = parseArgs({ options: { runs: { type: "string" } } });
const runs = Number(values.runs ?? 9);
const pool = openPool(1);
const own: TubePair[] = [];
for (const level of ["easy", "normal", "hard"] as const) {
  for (let i = 0; i < runs; i++) {
    const folder = mkdtempSync(join(tmpdir(), "tube-pairs-"));
    const truth = await writeRun(folder, level, FIRST_SEED + i);
    const { plates, result } = await readFolder(folder, { settings: SETTINGS, pictures: false }, pool, SILENT);
    rmSync(folder, { recursive: true });
    const { chances, signs } = posteriors(plates, result.fractions.length);
    for (const { truth: tube, forecast } of scoreRun(truth, result).tubes)
      own.push({
        ...{ drawnBy: "own", p: chances[tube.number - 1], right: forecast.right },
        ...signs[tube.number - 1],
      });
    console.log(level, FIRST_SEED + i, own.length, "tubes so far");
  }
}
writePairs([...own, ...readPairs().filter((p) => p.drawnBy !== "own")]);
process.exit(0);
