import { describe, expect, it } from "vitest";
import { evidenceOf } from "../../../src/plate/upright/evidence.ts";
import type { Signs, Soft } from "../../../src/plate/upright/signs.ts";

const [WIDTH, HEIGHT] = [150, 200];

/** A plate with a line of strokes and a soft dark band from edge to edge. */
function drawn(lineRow: number, bandRow: number): Signs {
  const plane = (row: number, reach: number, most: number) =>
    Float32Array.from({ length: WIDTH * HEIGHT }, (_, i) =>
      Math.max(0, most * (1 - Math.abs(Math.floor(i / WIDTH) - row) / reach)),
    );
  const spots = new Float32Array(WIDTH * HEIGHT);
  const soft = { width: WIDTH, height: HEIGHT, spots, shade: plane(bandRow, 4, 3), blobs: [] };
  return { width: WIDTH, height: HEIGHT, strokes: plane(lineRow, 1, 8), soft };
}

describe("a dark band", () => {
  it("is told from a blurred line, which lies where the line does", () => {
    const blurred = evidenceOf(drawn(26, 26));
    expect(blurred.headBandOnLine).toBeGreaterThan(0.5 * blurred.headBand);
    expect(evidenceOf(drawn(26, 40)).headBandOnLine).toBe(0);
    expect(evidenceOf(drawn(170, 26)).headBandOnLine).toBe(0);
    expect(evidenceOf(drawn(170, 170)).footBandOnLine).toBeGreaterThan(0.5);
  });

  it("lies so far from its edge", () => {
    const margin = (row: number) => evidenceOf(drawn(100, row)).headBandMargin;
    expect(margin(40) / margin(20)).toBeCloseTo(2, 0);
    expect(evidenceOf(drawn(100, 160)).footBandMargin).toBeGreaterThan(evidenceOf(drawn(100, 180)).footBandMargin);
  });
});

describe("tails", () => {
  const spot = { x0: 40, x1: 52, y0: 90, y1: 104, cx: 46, cy: 96, skewX: 0, skewY: 0, tailX: 0 };
  const signs = drawn(26, 26);
  const tailing = (...blobs: Soft["blobs"]) => evidenceOf({ ...signs, soft: { ...signs.soft, blobs } }).tailing;

  it("are told by each spot for itself", () => {
    const one = tailing({ ...spot, tailY: 0.5 });
    expect(one).toBeCloseTo(0.5);
    expect(tailing(...Array.from({ length: 4 }, () => ({ ...spot, tailY: 0.5 })))).toBeCloseTo(2 * one);
    expect(tailing({ ...spot, tailY: -0.5 })).toBeCloseTo(-one);
    expect(tailing()).toBe(0);
  });

  it("are not told by what is as wide as a line", () => {
    expect(tailing({ ...spot, x0: 5, x1: 145, tailY: 0.9 })).toBe(0);
  });
});
