import { describe, expect, it } from "vitest";
import { doubtLines, poolLines } from "../../src/cli/reading/tell.ts";
import type { Result, ResultPhoto } from "../../src/model/index.ts";
import { drawnResult } from "../decisions/sampleRun.ts";
import { dividedAs } from "../report/support/sampleDecisions.ts";

const photo = (file: string, more: Partial<ResultPhoto> = {}): ResultPhoto => ({
  ...{ file, status: "read", reason: null, light: "uv254", plate: "P1", plates: ["P1"], width: 9, height: 9 },
  ...{ quality: null, corners: [], ...more },
});
const result = (parts: Partial<Result>): Result => ({
  ...{ schema: "platepool.result/1", run: null, photos: [], plates: [], components: [], fractions: [], pools: [] },
  ...{ profiles: [], policies: [], advice: [], warnings: [], ...parts },
});

describe("doubts on the terminal", () => {
  it("one line each, with the photo's name once", () => {
    const lines = doubtLines(
      result({
        photos: [photo("a.jpg", { status: "rejected", reason: "no plate" }), photo("b.jpg")],
        warnings: [
          { code: "x", message: "run.yaml line 2: b.jpg is odd.", photo: "b.jpg", fraction: null },
          { code: "y", message: "The front is not marked.", photo: "b.jpg", fraction: null },
          { code: "y", message: "The front is not marked.", photo: "b.jpg", fraction: null },
        ],
      }),
    );
    expect(lines).toEqual([
      "a.jpg: not read: no plate",
      "run.yaml line 2: b.jpg is odd.",
      "b.jpg: The front is not marked.",
    ]);
  });
});

describe("the pools on the terminal", () => {
  it("tubes in ranges, kind and components", () => {
    const purity = { low: 0.9, mid: 0.95, high: 1 };
    const pool = {
      id: "1",
      kind: "clean",
      components: ["B"],
      purity,
      confidence: 0.934,
      volume_ml: null,
      reason: "",
    } as const;
    const lines = poolLines(result({ photos: [photo("a.jpg")], pools: [{ ...pool, fractions: [4, 5, 6, 9] }] }));
    expect(lines).toEqual(["1 photo, 0 plates, 0 tubes", "1: clean B, tubes 4-6, 9, confidence 0.93"]);
  });

  it("the pools that were decided, and what is suggested instead", () => {
    const run = dividedAs(drawnResult(".AAAxxBBB"), [
      ["1", [1], true],
      ["2", [2, 3, 4]],
      ["3", [5]],
      ["chalcone", [6, 7, 8, 9], true],
    ]);
    expect(poolLines(run).slice(1)).toEqual([
      "divided by hand into 4 pools, 2 accepted",
      expect.stringMatching(/^1: empty, tube 1, confidence [\d.]+, accepted$/),
      expect.stringMatching(/^2: clean A, tubes 2-4, confidence [\d.]+, open$/),
      expect.stringMatching(/^3: mixed A \+ B, tube 5, confidence [\d.]+, open$/),
      expect.stringMatching(/^chalcone: .*, tubes 6-9, confidence [\d.]+, accepted$/),
      expect.stringMatching(/^suggested instead: 3: mixed A \+ B, tubes 5-6, confidence/),
      expect.stringMatching(/^suggested instead: 4: clean B, tubes 7-9, confidence/),
    ]);
  });
});
