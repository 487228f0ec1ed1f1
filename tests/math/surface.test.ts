import { describe, expect, it } from "vitest";
import { fitSurfaces, type Surface, sampleSurface } from "../../src/math/surface.ts";

const GRID = { width: 30, height: 24 };
const SHAPE = { spansX: 6, spansY: 8, stiffness: 0.4 };

type Height = (u: number, v: number) => number;
const plane: Height = (u, v) => 0.3 + 0.5 * u - 0.2 * v;
const paraboloid: Height = (u, v) => 0.5 - 0.4 * (u - 0.4) ** 2 - 0.3 * (v - 0.6) ** 2;

/** Cell means of a smooth height, as good as its value at the cell's centre. */
function cells(height: Height): Float64Array {
  return Float64Array.from({ length: GRID.width * GRID.height }, (_, i) =>
    height(((i % GRID.width) + 0.5) / GRID.width, (Math.floor(i / GRID.width) + 0.5) / GRID.height),
  );
}

function worstError(surface: Surface, height: Height, width = 90, rows = 72): number {
  const out = new Float32Array(width * rows);
  sampleSurface(surface, width, rows, out);
  return out.reduce(
    (worst, v, i) =>
      Math.max(worst, Math.abs(v - height(((i % width) + 0.5) / width, (Math.floor(i / width) + 0.5) / rows))),
    0,
  );
}

const everywhere = () => new Float64Array(GRID.width * GRID.height).fill(1);
const fitted = (heights: readonly Height[], weights: Float64Array, shape = SHAPE) =>
  fitSurfaces(heights.map(cells), weights, GRID.width, GRID.height, shape);

describe("fitSurfaces", () => {
  it("reproduces a plane to the last digits, whatever the stiffness", () => {
    expect(worstError(fitted([plane], everywhere())[0], plane)).toBeLessThan(1e-5);
    expect(worstError(fitted([plane], everywhere(), { ...SHAPE, stiffness: 1000 })[0], plane)).toBeLessThan(1e-4);
  });

  it("follows a paraboloid, as a lamp draws it, to a few per cent of its bow", () => {
    expect(worstError(fitted([paraboloid], everywhere())[0], paraboloid)).toBeLessThan(0.015);
    expect(worstError(fitted([paraboloid], everywhere(), { ...SHAPE, stiffness: 1e-3 })[0], paraboloid)).toBeLessThan(
      1e-3,
    );
  });

  it("fits several surfaces at once as it fits each alone", () => {
    const [a, b] = fitted([plane, paraboloid], everywhere());
    expect(a.control).toEqual(fitted([plane], everywhere())[0].control);
    expect(b.control).toEqual(fitted([paraboloid], everywhere())[0].control);
  });

  it("bridges cells without weight: what stands there does not count", () => {
    const values = cells(paraboloid);
    const weights = everywhere();
    for (let y = 8; y < 13; y++)
      for (let x = 10; x < 16; x++) {
        weights[y * GRID.width + x] = 0;
        values[y * GRID.width + x] = 9;
      }
    const [surface] = fitSurfaces([values], weights, GRID.width, GRID.height, SHAPE);
    expect(worstError(surface, paraboloid)).toBeLessThan(0.02);
  });

  it("goes on straight where a whole side has no weight", () => {
    const weights = everywhere();
    for (let y = 0; y < GRID.height; y++) for (let x = 0; x < 4; x++) weights[y * GRID.width + x] = 0;
    expect(worstError(fitted([plane], weights)[0], plane)).toBeLessThan(1e-3);
  });

  it("is stiff: a single odd cell hardly moves it", () => {
    const values = cells(plane);
    values[12 * GRID.width + 15] += 1;
    const [surface] = fitSurfaces([values], everywhere(), GRID.width, GRID.height, SHAPE);
    expect(worstError(surface, plane)).toBeLessThan(0.2);
  });
});
