import { describe, expect, it } from "vitest";
import { edgeMarks } from "../../../src/plate/upright/edgeMarks.ts";

const [WIDTH, HEIGHT] = [200, 240];

/** Level strokes two pixels thick: row, first and last column. */
function drawn(...lines: readonly (readonly [number, number, number])[]) {
  const strokes = new Float32Array(WIDTH * HEIGHT);
  for (const [row, from, to] of lines)
    for (const y of [row, row + 1]) strokes.fill(8, y * WIDTH + from, y * WIDTH + to);
  const none = new Float32Array(WIDTH * HEIGHT);
  return { width: WIDTH, height: HEIGHT, strokes, spots: none, shade: none, blobs: [] };
}

describe("marks at the rims near the head", () => {
  it("are short level strokes at either side", () => {
    expect(edgeMarks(drawn([30, 5, 20]))).toBeGreaterThan(1);
    expect(edgeMarks(drawn([30, 180, 195]))).toBeGreaterThan(1);
  });

  it("are none where the line goes on across the plate, or stands lower", () => {
    expect(edgeMarks(drawn([30, 5, 195]))).toBe(0);
    expect(edgeMarks(drawn([60, 5, 20]))).toBe(0);
    expect(edgeMarks(drawn([30, 90, 105]))).toBe(0);
    expect(edgeMarks(drawn())).toBe(0);
  });

  it("are none where what stands there is high", () => {
    const high = Array.from({ length: 30 }, (_, k) => [20 + k, 5, 20] as const);
    expect(edgeMarks(drawn(...high))).toBeLessThan(edgeMarks(drawn([30, 5, 20])));
  });
});
