import { describe, expect, it } from "vitest";
import type { LaneTruth, SpotTruth } from "../../src/render/index.ts";
import { poolTruths, tubeTruths, verdictOf } from "../../src/render/judge/tubes.ts";
import { plateToPhoto } from "../../src/render/scene/compose.ts";
import { applyMatrix, distort } from "../../src/render/scene/homography.ts";
import { drawAll, linearAt, plainRun } from "./support.ts";

const spot = (component: string, amount: number, contrast: number): SpotTruth => ({
  rf: 0.4,
  x: 0.5,
  y: 0.5,
  component,
  amount,
  visibility: [{ photo: 0, contrast, contrastToNoise: 400 * contrast }],
  mustFind: contrast >= 0.03,
  hidden: false,
});
const lane = (fraction: number, spots: SpotTruth[]): LaneTruth => ({
  index: fraction,
  label: String(fraction),
  fraction,
  x: 0.1 * fraction,
  spots,
});

describe("truth of tubes", () => {
  it("calls a tube clean from a share of 95 % on", () => {
    const of = (share: number) =>
      verdictOf([
        { component: "c1", amount: share },
        { component: "c2", amount: 1 - share },
      ]);
    expect(of(0.96).state).toBe("clean");
    expect(of(0.94).state).toBe("mixed");
    expect(verdictOf([]).state).toBe("empty");
  });

  it.each([
    ["far on the clean side", 0.99, true],
    ["near the line", 0.97, false],
    ["near the line from below", 0.9, false],
    ["far on the mixed side", 0.8, true],
  ] as const)("judges a tube %s: %d is %s", (_, share, judged) => {
    const [tube] = tubeTruths([lane(1, [spot("c1", share, 0.5), spot("c2", 1 - share, 0.1)])], () => [], 1);
    expect(tube.judged).toBe(judged);
  });

  it("does not judge where a spot just below the limit decides", () => {
    const [tube] = tubeTruths([lane(1, [spot("c1", 0.7, 0.5), spot("c2", 0.3, 0.025)])], () => [], 1);
    expect(tube).toMatchObject({ state: "clean", judged: false });
  });

  it("judges a tube that holds what no one can see", () => {
    const [tube] = tubeTruths([lane(1, [spot("c1", 0.7, 0.5), spot("c2", 0.3, 0.005)])], () => [], 1);
    expect(tube).toMatchObject({ state: "clean", judged: true });
  });

  it("infers tubes that nobody spotted and does not judge them", () => {
    const [, second] = tubeTruths([lane(1, [])], () => [{ component: "c1", amount: 1 }], 2);
    expect(second).toMatchObject({ seen: false, state: "clean", judged: false });
  });

  it("pools neighbours that hold the same", () => {
    const tubes = tubeTruths(
      [
        lane(1, []),
        lane(2, [spot("c1", 1, 0.5)]),
        lane(3, [spot("c1", 1, 0.5)]),
        lane(4, [spot("c1", 0.5, 0.5), spot("c2", 0.5, 0.5)]),
        lane(5, [spot("c2", 1, 0.5)]),
      ],
      () => [],
      5,
    );
    expect(poolTruths(tubes).map((p) => [p.kind, ...p.fractions])).toEqual([
      ["empty", 1],
      ["clean", 2, 3],
      ["mixed", 4],
      ["clean", 5],
    ]);
  });
});

describe("visibility of spots", () => {
  it.each([0.02, 0.1, 0.6, 3])("tells the contrast that the photo shows (amount %d)", (amount) => {
    const recipe = plainRun([[0, amount, 0], [0, amount, 0], []], "easy", (p) => ({
      ...p,
      camera: { ...p.camera, blur: 0 },
    }));
    const { photos, truth } = drawAll(recipe);
    const told = truth.plates[0].lanes[0].spots[0];
    const matrix = plateToPhoto(recipe.photos[0], 0, recipe.plates[0]);
    const at = (x: number, y: number) => {
      const [ux, uy] = applyMatrix(matrix, x, y);
      return distort(ux, uy, recipe.photos[0].width, recipe.photos[0].height, recipe.photos[0].distortion);
    };
    const { x, y } = recipe.plates[0].lanes[0].spots[0];
    const patch = (px: number, py: number) => {
      let sum = 0;
      for (let j = -1; j <= 1; j++) for (let i = -1; i <= 1; i++) sum += linearAt(photos[0], px + i, py + j, 1) / 9;
      return sum;
    };
    const [sx, sy] = at(x, y);
    const [gx, gy] = at(recipe.plates[0].lanes[2].x, y);
    const seen = 1 - patch(sx, sy) / patch(gx, gy);
    expect(Math.abs(seen - told.visibility[0].contrast)).toBeLessThan(0.006 + 0.03 * seen);
  });

  it("sees nothing of a spot in a clipped channel, but does in the others", () => {
    const lanes = [[0, 0.05, 0], []];
    const contrastAt = (exposure: number) =>
      drawAll(plainRun(lanes, "easy", (p) => ({ ...p, camera: { ...p.camera, exposure } }))).truth.plates[0].lanes[0]
        .spots[0].visibility[0].contrast;
    expect(contrastAt(2.5)).toBeGreaterThan(0.03);
    expect(contrastAt(40)).toBe(0);
  });

  it("asks less of a noisier photo", () => {
    const lanes = [[0, 0.05, 0], []];
    const at = (fullWell: number) =>
      drawAll(plainRun(lanes, "easy", (p) => ({ ...p, camera: { ...p.camera, fullWell } }))).truth.plates[0].lanes[0]
        .spots[0];
    expect(at(1e12).mustFind).toBe(true);
    expect(at(3).mustFind).toBe(false);
  });

  it("lets the stronger of two merged spots be found, and hides the weaker", () => {
    const recipe = plainRun([[0, 1, 0], []]);
    const [first] = recipe.plates[0].lanes[0].spots;
    const second = { ...first, substance: "c1", amount: 0.2, y: first.y - 0.8, rf: first.rf + 0.02 };
    const lanes = recipe.plates[0].lanes.map((l, i) => (i === 0 ? { ...l, spots: [first, second] } : l));
    const { truth } = drawAll({ ...recipe, plates: [{ ...recipe.plates[0], lanes }] });
    expect(truth.plates[0].lanes[0].spots.map((s) => [s.mustFind, s.hidden])).toEqual([
      [true, false],
      [false, true],
    ]);
  });
});
