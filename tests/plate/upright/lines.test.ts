import { describe, expect, it } from "vitest";
import { lineAcross } from "../../../src/plate/upright/lines.ts";

const [WIDTH, HEIGHT] = [240, 100];

/** A plane with one line, three rows high, on the rows that `row` says. */
function drawn(row: (x: number) => number): Float32Array {
  const plane = new Float32Array(WIDTH * HEIGHT);
  for (let x = 0; x < WIDTH; x++) for (let k = -1; k <= 1; k++) plane[(Math.round(row(x)) + k) * WIDTH + x] = 6;
  return plane;
}

const across = (plane: Float32Array) =>
  lineAcross(plane, WIDTH, [10, 90], { columns: 48, bounds: [0, 8], slope: 0.1, step: 0.15 });

describe("the strongest line across a plate", () => {
  it("is straight where it was drawn so, slanted or not", () => {
    for (const slant of [0, 0.04]) {
      const line = across(drawn((x) => 50 + slant * (x - WIDTH / 2)));
      expect(line.strength).toBeGreaterThan(5);
      expect(Math.abs(line.row - 50)).toBeLessThan(1.6);
      expect(line.roughness).toBeLessThan(1);
    }
  });

  it("bows with a bowed front", () => {
    const line = across(drawn((x) => 46 + 8 * ((2 * x) / WIDTH - 1) ** 2));
    expect(line.strength).toBeGreaterThan(4.5);
    expect(line.roughness).toBeGreaterThan(1.5);
  });

  it("is weak where there is none, and no single heavy spot makes one", () => {
    const plane = new Float32Array(WIDTH * HEIGHT);
    for (let y = 40; y < 60; y++) plane.fill(100, y * WIDTH + 110, y * WIDTH + 130);
    expect(across(plane).strength).toBeLessThan(1);
  });
});
