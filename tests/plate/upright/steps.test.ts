import { describe, expect, it } from "vitest";
import { layerStep } from "../../../src/plate/upright/steps.ts";

const [WIDTH, HEIGHT] = [120, 300];

/** A plate whose shade changes at the rows that are named. */
function shaded(...rows: number[]) {
  const shade = Float32Array.from(
    { length: WIDTH * HEIGHT },
    (_, i) => 0.5 * rows.filter((row) => Math.floor(i / WIDTH) >= row).length,
  );
  const none = new Float32Array(WIDTH * HEIGHT);
  return { width: WIDTH, height: HEIGHT, strokes: none, spots: none, shade, blobs: [] };
}

describe("the layer's step", () => {
  it("speaks for a front where the strip beyond it is of another tone", () => {
    expect(layerStep(shaded(40))).toBeCloseTo(0.5);
    expect(layerStep(shaded(HEIGHT - 40))).toBeCloseTo(-0.5);
  });

  it("says nothing in the middle, or at both ends alike", () => {
    expect(layerStep(shaded(150))).toBeCloseTo(0);
    expect(layerStep(shaded(40, HEIGHT - 40))).toBeCloseTo(0);
  });
});
