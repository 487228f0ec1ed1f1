import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { openPool } from "../../src/cli/workers/pool.ts";
import type { Result } from "../../src/model/index.ts";
import { type RunScore, scoreRun } from "../bench/metrics/run.ts";
import { readQuietly } from "../bench/support/read-folder.ts";

/** What a reading of each fixture may get wrong: tighten it when the reader beats it by far. */
const budgets = JSON.parse(readFileSync(new URL("./budgets.json", import.meta.url), "utf8")) as {
  run: string;
  missed: number;
  invented: number;
  rfMean: number;
  rfMost: number;
  tubesWrong: number;
}[];

const folderOf = (run: string) => fileURLToPath(new URL(`../../fixtures/runs/${run}`, import.meta.url));
const read = (run: string): Promise<Result> => readQuietly(folderOf(run), openPool(1));
const score = (run: string, result: Result): RunScore =>
  scoreRun(JSON.parse(readFileSync(`${folderOf(run)}/truth.json`, "utf8")), result);

/** Every photo of every plate found where it is, the right way up. */
function expectPlatesFound({ plates }: RunScore): void {
  for (const { match } of plates)
    for (const sighting of match.sightings) {
      expect(sighting.found).toBe(true);
      expect(sighting.turned).toBe(0);
      expect(sighting.cornerError).toBeLessThan(0.01);
    }
}

describe("whole readings of the fixtures, against their truth", () => {
  it.each(budgets)("$run stays within its budget", async ({ run, missed, invented, rfMean, rfMost, tubesWrong }) => {
    const got = score(run, await read(run));
    expectPlatesFound(got);
    expect(got.plates.every((p) => p.laneCountRight)).toBe(true);
    expect(got.spots.missed).toBeLessThanOrEqual(missed);
    expect(got.spots.invented).toBeLessThanOrEqual(invented);
    expect(got.rfErrors.reduce((a, b) => a + b, 0) / got.rfErrors.length).toBeLessThan(rfMean);
    expect(Math.max(...got.rfErrors)).toBeLessThan(rfMost);
    expect(got.tubes.filter((t) => !t.stateRight).length).toBeLessThanOrEqual(tubesWrong);
  });

  it("nasty-54: both plates in one turned photo are found, with all their lanes", async () => {
    const got = score("nasty-54", await read("nasty-54"));
    expectPlatesFound(got);
    expect(got.plates.map((p) => p.laneCountRight)).toEqual([true, true]);
  });

  it("the same photos give the same result, byte for byte", async () => {
    expect(JSON.stringify(await read("normal-30"))).toBe(JSON.stringify(await read("normal-30")));
  });
});
