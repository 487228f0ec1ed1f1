import { Matrix, solve } from "ml-matrix";
import { describe, expect, it } from "vitest";
import { cornersIn } from "../../src/render/judge/truth.ts";
import { plateToPhoto } from "../../src/render/scene/compose.ts";
import { applyMatrix, distort, invert, multiply, undistort } from "../../src/render/scene/homography.ts";
import { drawAll, linearAt, plainRun } from "./support.ts";

/** Homography through four pairs of points, solved apart from the renderer's own. */
function throughCorners(quad: readonly (readonly [number, number])[]): (u: number, v: number) => [number, number] {
  const unit = [
    [0, 0],
    [1, 0],
    [1, 1],
    [0, 1],
  ];
  const rows = unit.flatMap(([u, v], i) => {
    const [x, y] = quad[i];
    return [
      [u, v, 1, 0, 0, 0, -u * x, -v * x],
      [0, 0, 0, u, v, 1, -u * y, -v * y],
    ];
  });
  const h = [...solve(new Matrix(rows), Matrix.columnVector(quad.flat())).to1DArray(), 1];
  return (u, v) => applyMatrix(h, u, v);
}

const LANES = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
  [0.5, 0.5, 0],
];

describe("where things stand in a photo", () => {
  it("turns a matrix back into itself", () => {
    const m = [2, 0.1, 5, -0.2, 1.8, 3, 1e-3, 2e-3, 1];
    const one = multiply(m, invert(m));
    one.forEach((v, i) => {
      expect(v / one[8]).toBeCloseTo(i % 4 === 0 ? 1 : 0, 9);
    });
  });

  it.each([-0.04, 0, 0.03])("undoes a lens distortion of %d", (k) => {
    for (const [x, y] of [
      [0, 0],
      [900, 30],
      [450, 700],
    ]) {
      const [ux, uy] = undistort(x, y, 1200, 900, k);
      const [bx, by] = distort(ux, uy, 1200, 900, k);
      expect(Math.hypot(bx - x, by - y)).toBeLessThan(1e-6);
    }
  });

  it.each(["easy", "hard", "nasty"] as const)("spots of the truth lie where the corners put them (%s)", (level) => {
    const recipe = plainRun(LANES, level, (photo) => ({ ...photo, distortion: 0 }));
    const { truth } = drawAll(recipe);
    const project = throughCorners(truth.photos[0].plates[0].corners);
    const matrix = plateToPhoto(recipe.photos[0], 0, recipe.plates[0]);
    recipe.plates[0].lanes.forEach((lane, l) => {
      lane.spots.forEach((spot, s) => {
        const told = truth.plates[0].lanes[l].spots[s];
        const [x, y] = project(told.x, told.y);
        const [tx, ty] = applyMatrix(matrix, spot.x, spot.y);
        expect(Math.hypot(x - tx, y - ty)).toBeLessThan(0.1);
      });
    });
  });

  it("draws each spot darkest where the truth says", () => {
    const recipe = plainRun(LANES, "normal");
    const { photos, truth } = drawAll(recipe);
    const matrix = plateToPhoto(recipe.photos[0], 0, recipe.plates[0]);
    const { width, height, distortion } = recipe.photos[0];
    for (const spot of truth.plates[0].lanes.slice(0, 3).flatMap((l) => l.spots)) {
      const [ux, uy] = applyMatrix(matrix, spot.x * recipe.plates[0].width, spot.y * recipe.plates[0].height);
      const [x, y] = distort(ux, uy, width, height, distortion);
      let [sum, mx, my] = [0, 0, 0];
      const ground = linearAt(photos[0], x + 45, y, 1);
      for (let j = -20; j <= 20; j++)
        for (let i = -20; i <= 20; i++) {
          const lost = Math.max(0, ground - linearAt(photos[0], x + i, y + j, 1)) ** 4;
          sum += lost;
          mx += lost * i;
          my += lost * j;
        }
      expect(Math.hypot(mx / sum, my / sum)).toBeLessThan(2.5);
    }
  });

  it("shows layer inside the corners and bench outside", () => {
    const recipe = plainRun(LANES, "normal");
    const { photos } = drawAll(recipe);
    const quad = cornersIn(recipe.photos[0], 0, recipe.plates[0]);
    const middle = quad.reduce(([x, y], [cx, cy]) => [x + cx / 4, y + cy / 4], [0, 0]);
    for (const [x, y] of quad) {
      const [dx, dy] = [(middle[0] - x) / 40, (middle[1] - y) / 40];
      expect(linearAt(photos[0], x + dx, y + dy, 1)).toBeGreaterThan(0.5);
      expect(linearAt(photos[0], x - dx, y - dy, 1)).toBeLessThan(0.2);
    }
  });

  it("measures Rf from each lane's own origin to its own front", () => {
    const recipe = plainRun(LANES, "nasty");
    for (const lane of recipe.plates[0].lanes)
      for (const spot of lane.spots)
        expect((lane.originY - spot.y) / (lane.originY - lane.frontY)).toBeCloseTo(spot.rf, 9);
  });
});
