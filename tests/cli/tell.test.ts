import { describe, expect, it } from "vitest";
import { doubtLines, poolLines } from "../../src/cli/reading/tell.ts";
import type { Result, ResultPhoto } from "../../src/model/index.ts";

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
});
