import { createHash } from "node:crypto";
import { describe, expect, it } from "vitest";
import { planDemo } from "../../src/render/demo.ts";
import { LEVELS, planRun, runYaml } from "../../src/render/index.ts";
import { cornersIn } from "../../src/render/judge/truth.ts";
import { LEVEL_SETTINGS } from "../../src/render/levels.ts";
import { parseRunFile } from "../../src/store/index.ts";
import { drawAll } from "./support.ts";

const digest = (data: Uint8Array) => createHash("sha256").update(data).digest("hex");
const SEEDS = Array.from({ length: 30 }, (_, i) => i + 1);

describe("a run", () => {
  it.each(LEVELS)("is the same byte for byte from the same seed (%s)", (level) => {
    const draw = () => drawAll(planRun(level, 3, { longSide: 420, plates: 1 }));
    const [first, second] = [draw(), draw()];
    expect(first.photos.map((p) => digest(p.picture.data))).toEqual(second.photos.map((p) => digest(p.picture.data)));
    expect(first.truth).toEqual(second.truth);
  });

  it("differs from seed to seed", () => {
    const [first, second] = [7, 8].map((seed) => drawAll(planRun("normal", seed, { longSide: 420, plates: 1 })));
    expect(digest(first.photos[0].picture.data)).not.toBe(digest(second.photos[0].picture.data));
  });

  it.each(LEVELS)("carries each spotted tube once, on plates of the level's size (%s)", (level) => {
    for (const seed of SEEDS) {
      const run = planRun(level, seed);
      const {
        lanes: [, most],
        tubes: [few, many],
      } = LEVEL_SETTINGS[level];
      const tubes = run.plates.flatMap((p) => p.lanes.map((l) => l.fraction)).filter((f) => f !== null);
      expect(new Set(tubes).size).toBe(tubes.length);
      expect(run.tubes).toBeGreaterThanOrEqual(few);
      expect(run.tubes).toBeLessThanOrEqual(many);
      for (const plate of run.plates) {
        expect(plate.lanes.length).toBeGreaterThanOrEqual(2);
        expect(plate.lanes.length).toBeLessThanOrEqual(most);
        for (const lane of plate.lanes) {
          expect(lane.frontY).toBeLessThan(lane.originY);
          expect(lane.frontY).toBeGreaterThanOrEqual(0);
        }
      }
    }
  });

  it.each(LEVELS)("shows every plate whole, about 400 pixels wide at the least (%s)", (level) => {
    for (const seed of SEEDS) {
      const { plates, photos } = planRun(level, seed);
      expect(new Set(photos.flatMap((p) => p.plates.map(({ plate }) => plate))).size).toBe(plates.length);
      for (const photo of photos)
        for (const { plate } of photo.plates) {
          const [a, b, c, d] = cornersIn(photo, plate, plates[plate]);
          for (const [x, y] of [a, b, c, d]) {
            // a scan's frame is the plate itself
            expect(Math.min(x, y, photo.width - x, photo.height - y)).toBeGreaterThan(-3);
          }
          expect(Math.max(Math.hypot(b[0] - a[0], b[1] - a[1]), Math.hypot(c[0] - d[0], c[1] - d[1]))).toBeGreaterThan(
            395,
          );
        }
    }
  });

  it.each(["hard", "nasty"] as const)("shows about half of the plates under two lights (%s)", (level) => {
    const plates = SEEDS.flatMap((seed) => {
      const { plates, photos } = planRun(level, seed);
      return plates.map((_, i) => photos.filter((p) => p.plates.some((placed) => placed.plate === i)).length);
    });
    const twice = plates.filter((n) => n === 2).length / plates.length;
    expect(twice).toBeGreaterThan(0.35);
    expect(twice).toBeLessThan(0.65);
  });

  it("has a run file that the reader takes without a doubt", () => {
    for (const level of LEVELS)
      for (const seed of SEEDS.slice(0, 10)) {
        const recipe = planRun(level, seed);
        const parsed = parseRunFile(runYaml(recipe));
        expect(parsed).toMatchObject({ findings: [] });
        expect(parsed.run?.plates?.map((p) => p.lanes?.map((l) => l.label))).toEqual(
          recipe.plates.map((p) => p.lanes.map((l) => l.label)),
        );
      }
  });
});

describe("the demo", () => {
  it("has 24 tubes on three plates, crude first, each under 254 nm and permanganate", () => {
    const { plates, photos } = planDemo(1);
    expect(plates.map((p) => p.lanes.map((l) => l.label).join(" "))).toEqual([
      "crude 1 2 3 4 5 6 7 8",
      "9 10 11 12 13 14 15 16",
      "17 18 19 20 21 22 23 24",
    ]);
    expect(photos.map((p) => p.stain ?? p.light)).toEqual(["uv254", "kmno4", "uv254", "kmno4", "uv254", "kmno4"]);
  });
});
