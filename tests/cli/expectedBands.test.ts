import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { expectedBands } from "../../src/cli/reading/expectedBands.ts";
import { parseRunFile } from "../../src/store/index.ts";

let folder: string;

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "expected-bands-"));
});

afterEach(() => {
  rmSync(folder, { recursive: true });
});

function runFile(column: string) {
  return parseRunFile(`fractions: { count: 30, volume_ml: 10 }\n${column}`).run;
}

describe("what a reading is told of the plan", () => {
  it("is where the column of the run file sends each component", async () => {
    const run = runFile("column: { load_mg: 250, steps: [{ rf: { A: 0.55, B: 0.3 } }] }\n");
    const { expected } = await expectedBands(folder, run);
    expect(expected?.map((b) => b.rf)).toEqual([0.55, 0.3]);
    const [a, b] = expected!;
    expect(a.tube).toBeLessThan(b.tube);
    expect(a.sd).toBeGreaterThan(0);
  });

  it("is nothing where nobody planned, or where the plan cannot be", async () => {
    expect(await expectedBands(folder, runFile(""))).toEqual({});
    expect(await expectedBands(folder, null)).toEqual({});
    const run = runFile("column: { load_mg: 250, want: Z, steps: [{ rf: { A: 0.5 } }] }\n");
    expect(await expectedBands(folder, run)).toEqual({});
  });

  it("is nothing where the bench book cannot be read", async () => {
    writeFileSync(join(folder, "bench.jsonl"), "not a record\n");
    expect(await expectedBands(folder, runFile(""))).toEqual({});
  });
});
