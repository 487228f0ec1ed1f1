import { describe, expect, it } from "vitest";
import { marksBelow, strokesBelow } from "../../../src/plate/upright/below.ts";
import type { Soft, Strokes } from "../../../src/plate/upright/signs.ts";
import { laneAt } from "../../../src/plate/upright/told.ts";

const [WIDTH, HEIGHT] = [240, 160];
const LANES = 6;

/** Upright strokes, which also show as shade, at places across and down in shares of the sides; a full line at a share of the height. */
function drawn(at: readonly (readonly [number, number])[], line: number | null = null): Soft & Strokes {
  const marks = (value: number, reach: number) =>
    Float32Array.from({ length: WIDTH * HEIGHT }, (_, i) => {
      const [x, y] = [i % WIDTH, Math.floor(i / WIDTH)];
      if (line !== null && Math.abs(y - line * HEIGHT) < 1) return value;
      return at.some(([u, v]) => Math.abs(x - u * WIDTH) < reach && Math.abs(y - v * HEIGHT) < 4) ? value : 0;
    });
  const spots = new Float32Array(WIDTH * HEIGHT);
  return { width: WIDTH, height: HEIGHT, strokes: marks(9, 1.5), spots, shade: marks(3, 3), blobs: [] };
}

const names = Array.from({ length: LANES }, (_, lane) => [laneAt(lane, LANES), 0.92] as const);
/** As many marks side by side in the middle, as a title has them. */
const title = Array.from({ length: LANES }, (_, k) => [0.4 + 0.04 * k, 0.92] as const);

describe.each([
  ["marks", marksBelow],
  ["strokes", strokesBelow],
] as const)("%s below the origin", (_, below) => {
  it("stand at the places of the lanes", () => {
    expect(below(drawn(names), [LANES])).toBeGreaterThan(0.8);
    expect(below(drawn(names.map(([x, y]) => [x, 1 - y] as const)), [LANES])).toBe(0);
  });

  it("are no names where they stand in one place", () => {
    expect(below(drawn(title), [LANES])).toBeLessThan(0.3 * below(drawn(names), [LANES]));
  });

  it("stand there too where nobody said how many there are", () => {
    const any = [4, 5, 6, 7, 8];
    expect(below(drawn(names), any)).toBeGreaterThanOrEqual(below(drawn(names), [LANES]));
    expect(below(drawn(title), any)).toBeLessThan(0.5 * below(drawn(names), any));
  });

  it("are names too where one is missing", () => {
    expect(below(drawn(names.slice(1)), [LANES])).toBeGreaterThan(0.6 * below(drawn(names), [LANES]));
  });
});

describe("an origin line", () => {
  it("does not hide the strokes on it", () => {
    expect(strokesBelow(drawn(names, 0.85), [LANES])).toBeCloseTo(strokesBelow(drawn(names), [LANES]));
  });
});
