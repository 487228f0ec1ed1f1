import { describe, expect, it } from "vitest";
import type { Quad } from "../../../src/model/index.ts";
import { judgeCandidates } from "../../../src/plate/locate/judge.ts";
import { borderLines, type EdgeLine } from "../../../src/plate/locate/lines.ts";
import type { Candidate } from "../../../src/plate/locate/quads.ts";
import type { Sketch } from "../../../src/raster/shrink.ts";

const SIZE = 100;
/** A bright square from 20 to 80 on a dark ground, as even as a picture that is wholly clipped. */
const codes = Float32Array.from({ length: SIZE * SIZE }, (_, i) => {
  const [x, y] = [i % SIZE, Math.floor(i / SIZE)];
  return Math.min(x, y) >= 20 && Math.max(x, y) < 80 ? 200 : 40;
});
const sketch: Sketch = { width: SIZE, height: SIZE, r: codes, g: codes, b: codes, scale: 1 };

const line = (nx: number, ny: number, rho: number): EdgeLine => ({
  ...borderLines(0, 0)[0],
  nx,
  ny,
  rho,
  border: false,
});
const [top, right, bottom, left] = [line(0, 1, 20), line(-1, 0, -80), line(0, -1, -80), line(1, 0, 20)];

function upright(x0: number, y0: number, x1: number, y1: number, sides: Candidate["sides"]): Candidate {
  const quad: Quad = [
    [x0, y0],
    [x1, y0],
    [x1, y1],
    [x0, y1],
  ];
  return { quad, sides, score: 1 };
}

describe("of candidates that share sides", () => {
  const whole = upright(20, 20, 80, 80, [top, right, bottom, left]);

  it("each is judged by its own, best first", () => {
    const off = line(0, -1, -77);
    const part = upright(20, 20, 80, 77, [top, right, off, left]);
    const judged = judgeCandidates(sketch, [part, whole], 0.05);
    expect(judged.map((one) => one.candidate)).toEqual([whole, part]);
    // 160 codes in each of three channels.
    expect(judged[0].sides.map((side) => Math.round(side.step))).toEqual([277, 277, 277, 277]);
    expect(judged[1].sides[2].step).toBeLessThan(277);
  });

  it("one is none that shows nothing at all at one of its sides", () => {
    const half = upright(50, 20, 80, 80, [top, right, bottom, line(1, 0, 50)]);
    const turned = upright(20, 50, 80, 80, [line(0, 1, 50), right, bottom, left]);
    expect(judgeCandidates(sketch, [half, turned], 0.05)).toEqual([]);
    expect(judgeCandidates(sketch, [half, whole], 0.05).map((one) => one.candidate)).toEqual([whole]);
  });
});
