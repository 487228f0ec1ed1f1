import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { brierScore, expectedCalibrationError } from "./calibration.ts";
import { adjustedRand, pairCounts } from "./clustering.ts";
import { cornerDistance } from "./plates.ts";
import { f1, median, precision, recall } from "./score.ts";
import { matchSpots } from "./spots.ts";
import { laneOf, readSpot, trueSpot } from "./support.ts";

/** scikit-learn's values; `reference/generate.py` made them. */
const reference = JSON.parse(readFileSync(new URL("./reference/values.json", import.meta.url), "utf8")) as {
  groupings: { a: string[]; b: string[]; ari: number; pairs: ReturnType<typeof pairCounts> }[];
  forecasts: { p: number[]; y: number[]; brier: number; ece: number }[];
  tallies: { hits: number; invented: number; missed: number; precision: number; recall: number; f1: number }[];
};

describe("metrics against scikit-learn", () => {
  it.each(reference.groupings)("adjusted Rand index $ari", ({ a, b, ari, pairs }) => {
    expect(adjustedRand(a, b)).toBeCloseTo(ari, 12);
    expect(pairCounts(a, b)).toEqual(pairs);
  });

  it.each(reference.forecasts)("Brier score $brier and calibration error $ece", ({ p, y, brier, ece }) => {
    const forecasts = p.map((confidence, i) => ({ confidence, right: y[i] === 1 }));
    expect(brierScore(forecasts)).toBeCloseTo(brier, 12);
    expect(expectedCalibrationError(forecasts)).toBeCloseTo(ece, 12);
  });

  it.each(reference.tallies)("precision, recall and F1 of $hits, $invented, $missed", (tally) => {
    expect(precision(tally)).toBeCloseTo(tally.precision, 12);
    expect(recall(tally)).toBeCloseTo(tally.recall, 12);
    expect(f1(tally)).toBeCloseTo(tally.f1, 12);
  });
});

describe("edge cases of the metrics", () => {
  it("gives full marks where nothing was to be found and nothing was said", () => {
    const nothing = { hits: 0, invented: 0, missed: 0 };
    expect([precision(nothing), recall(nothing), f1(nothing)]).toEqual([1, 1, 1]);
    expect(adjustedRand([], [])).toBe(1);
    expect(expectedCalibrationError([])).toBe(0);
  });

  it("takes the middle of an even number of values", () => expect(median([4, 1, 3, 2])).toBe(2.5));

  it("leaves things in no pool unpaired", () => {
    expect(pairCounts(["a", "a"], [null, null])).toEqual({ both: 0, onlyTruth: 1, onlyAnswer: 0 });
  });
});

describe("corners", () => {
  const square = [
    [0, 0],
    [100, 0],
    [100, 100],
    [0, 100],
  ] as const;

  it("measures the mean distance over the diagonal", () => {
    const read = square.map(([x, y]) => [x + 3, y + 4] as const);
    expect(cornerDistance(square, read).error).toBeCloseTo(5 / Math.SQRT2 / 100, 12);
  });

  it("sees that a plate was taken with its right side up", () => {
    const read = [square[1], square[2], square[3], square[0]];
    expect(cornerDistance(square, read)).toEqual({ error: 0, turned: 3 });
  });
});

describe("spots", () => {
  it("pairs each spot once, nearest first, within 0.03", () => {
    const lane = laneOf([trueSpot(0.3), trueSpot(0.34), trueSpot(0.6)]);
    const score = matchSpots(lane, [readSpot(0.32), readSpot(0.345), readSpot(0.64)]);
    expect(score.pairs.map((p) => [p.truth.rf, p.read.rf])).toEqual([
      [0.34, 0.345],
      [0.3, 0.32],
    ]);
    expect(score.missed.map((s) => s.rf)).toEqual([0.6]);
    expect(score.invented.map((s) => s.rf)).toEqual([0.64]);
  });

  it("neither asks for nor blames a spot that need not be found", () => {
    const lane = laneOf([trueSpot(0.3, false), trueSpot(0.7, false)]);
    const score = matchSpots(lane, [readSpot(0.31)]);
    expect([score.missed.length, score.invented.length]).toEqual([0, 0]);
  });

  it("gives a spot that must be found the first choice", () => {
    const lane = laneOf([trueSpot(0.3, false), trueSpot(0.32)]);
    expect(matchSpots(lane, [readSpot(0.305)]).missed).toEqual([]);
  });
});
