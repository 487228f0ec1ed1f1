import { describe, expect, it } from "vitest";
import { RESULT_SCHEMA, type Result, type ResultFraction, type ResultPool } from "../../../src/model/index.ts";
import type { RunTruth } from "../../../src/render/index.ts";
import { scoreRun } from "./run.ts";
import { summarise } from "./summary.ts";
import { laneOf, readSpot, trueSpot } from "./support.ts";
import { worstPhotos } from "./worst.ts";

const CORNERS = [
  [10, 10],
  [90, 10],
  [90, 110],
  [10, 110],
] as const;

/** Tubes 1 (clean), 2 (mixed), 3 (empty) on one plate. */
const truth: RunTruth = {
  schema: "platepool.truth/1",
  run: "by-hand",
  level: "easy",
  seed: 0,
  photos: [
    {
      file: "a.jpg",
      light: "uv254",
      stain: null,
      width: 100,
      height: 120,
      plates: [{ plate: "p1", corners: CORNERS }],
    },
  ],
  plates: [
    {
      id: "p1",
      aspect: 1.25,
      width: 40,
      height: 50,
      origin: 0.8,
      front: 0.1,
      originMark: "line",
      frontMark: "line",
      photos: [0],
      lanes: [
        laneOf([trueSpot(0.5)], 1, 1),
        laneOf([trueSpot(0.5), trueSpot(0.3, true, "c2")], 2, 2),
        laneOf([], 3, 3),
      ],
    },
  ],
  components: [],
  fractions: [
    { number: 1, seen: true, composition: { c1: 1 }, state: "clean", judged: true },
    { number: 2, seen: true, composition: { c1: 0.6, c2: 0.4 }, state: "mixed", judged: true },
    { number: 3, seen: true, composition: {}, state: "empty", judged: true },
  ],
  pools: [1, 2, 3].map((n) => ({ fractions: [n], kind: (["clean", "mixed", "empty"] as const)[n - 1] })),
};

type Told = { state: ResultFraction["state"]; pool: string; composition: Record<string, number> };

function readingOf(lanes: number[][], told: Told[], pools: [string, number[], ResultPool["kind"]][]): Result {
  const line = { y: 0.8, source: "found", tilt: 0, bow: 0 } as const;
  const quality = null;
  return {
    schema: RESULT_SCHEMA,
    run: null,
    photos: [
      {
        file: "a.jpg",
        status: "read",
        reason: null,
        light: "uv254",
        plate: "P1",
        plates: ["P1"],
        width: 100,
        height: 120,
        quality,
        corners: [CORNERS],
      },
    ],
    plates: [
      {
        id: "P1",
        photos: ["a.jpg"],
        corners: CORNERS,
        aspect: 1.25,
        origin: line,
        front: line,
        lanes: lanes.map((rfs, i) => ({
          index: i + 1,
          label: String(i + 1),
          fraction: i + 1,
          x: (i + 1) / 10,
          drift: 0,
          spots: rfs.map((rf) => readSpot(rf, rf > 0.4 ? "A" : "B")),
        })),
      },
    ],
    components: [],
    fractions: told.map((t, i) => ({
      number: i + 1,
      seen: true,
      composition: t.composition,
      state: t.state,
      odds: { clean: 0, mixed: 0, empty: 0 },
      pool: t.pool,
      confidence: 0.8,
      reason: null,
    })),
    pools: pools.map(([id, fractions, kind]) => ({
      id,
      fractions,
      kind,
      components: [],
      purity: { low: 0, mid: 0.5, high: 1 },
      confidence: 0.8,
      volume_ml: null,
      reason: "",
    })),
    profiles: [],
    policies: [],
    advice: [],
    warnings: [],
  };
}

const CLEAN: Told = { state: "clean", pool: "I", composition: { A: 1 } };

describe("scoring a run", () => {
  it("gives full marks to a right reading", () => {
    const result = readingOf(
      [[0.5], [0.5, 0.3], []],
      [
        CLEAN,
        { state: "mixed", pool: "II", composition: { A: 0.6, B: 0.4 } },
        { state: "empty", pool: "III", composition: {} },
      ],
      [
        ["I", [1], "clean"],
        ["II", [2], "mixed"],
        ["III", [3], "empty"],
      ],
    );
    const summary = summarise([scoreRun(truth, result)]);
    expect(summary).toMatchObject({
      platesFound: 1,
      cornerErrorMedian: 0,
      laneCountRight: 1,
      spotF1: 1,
      componentAgreement: 1,
      tubeStateRight: 1,
      mixedInCleanPools: 0,
      cleanThrownAway: 0,
      poolPairF1: 1,
    });
    expect(summary.tubeCalibrationError).toBeCloseTo(0.2, 12);
    expect(worstPhotos([scoreRun(truth, result)])).toEqual([]);
  });

  it("charges a missed spot, the mixed tube pooled as clean, and the empty tube pooled along", () => {
    const result = readingOf([[0.51], [0.51], [0.7]], [CLEAN, CLEAN, CLEAN], [["I", [1, 2, 3], "clean"]]);
    const score = scoreRun(truth, result);
    const summary = summarise([score]);
    expect(score.spots).toEqual({ hits: 2, invented: 1, missed: 1 });
    expect(summary.rfErrorMean).toBeCloseTo(0.01, 12);
    expect(summary.tubeStateRight).toBeCloseTo(1 / 3, 12);
    expect(summary.mixedInCleanPools).toBe(1);
    expect(score.poolPairs).toEqual({ hits: 0, invented: 3, missed: 0 });
    expect(worstPhotos([score])[0].what).toBe(
      "uv254: 1 of 3 spots missed (lane 2 Rf 0.30); 1 invented (lane 3 Rf 0.70)",
    );
  });

  it("misses all spots of a rejected photo", () => {
    const result = readingOf([], [], []);
    const rejected = {
      ...result,
      plates: [],
      photos: [{ ...result.photos[0], status: "rejected" as const, reason: "no plate", plates: [], corners: [] }],
    };
    const score = scoreRun(truth, rejected);
    expect(score.spots).toEqual({ hits: 0, invented: 0, missed: 3 });
    expect(summarise([score]).platesFound).toBe(0);
    expect(worstPhotos([score])[0].what).toContain("plate p1 not found (rejected: no plate)");
  });
});
