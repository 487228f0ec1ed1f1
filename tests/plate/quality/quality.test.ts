import { describe, expect, it } from "vitest";
import type { PhotoQuality, Quad } from "../../../src/model/index.ts";
import { advise } from "../../../src/plate/quality/advise.ts";
import { judgeQuality } from "../../../src/plate/quality/index.ts";
import { canvas, expose, type Paint, paintQuad, tilted } from "../locate/scene.ts";

const EVEN: Paint = () => [150, 150, 150];

function judge(paint: Paint, quad: Quad = tilted(300, 250, 400, 300, 0), scale = 2, bench = 40) {
  const on = canvas(600, 500, () => [bench, bench, bench]);
  paintQuad(on, quad, paint);
  return judgeQuality(expose(on, 1, 2), quad, scale);
}

describe("a photo's quality", () => {
  it("of a good one needs no advice", () => {
    const q = judge(EVEN);
    expect(q.advice).toBeNull();
    expect(q.blurPx).toBeLessThan(4);
    expect(q.evenness).toBeGreaterThan(0.95);
    expect(q.platePx).toBeCloseTo(800, -1);
    expect(q.clipped).toEqual([0, 0, 0]);
    expect(q.cutOff).toBe(false);
  });

  // A Gaussian edge rises from 10 to 90 % over 2.563 sigma (normal quantiles; here the logistic of the same form: 2 ln 9 s).
  it.each([1, 1.5, 2])("measures blur in pixels of the original (logistic edge of scale %d)", (s) => {
    const on = canvas(600, 500, (x, y) => {
      const inside = Math.min(x - 100, 500 - x, y - 100, 400 - y) + 0.5;
      const k = 1 / (1 + Math.exp(-inside / s));
      return [40 + 110 * k, 40 + 110 * k, 40 + 110 * k];
    });
    const q = judgeQuality(expose(on, 0, 1), tilted(300, 250, 400, 300, 0), 2);
    expect(Math.abs(q.blurPx / (2 * 2 * Math.log(9) * s) - 1)).toBeLessThan(0.2);
  });

  it("names the clipped channel and by how much to go down", () => {
    const q = judge((u) => (u < 0.9 ? [120, 255, 130] : [100, 200, 110]));
    expect(q.clipped[1]).toBeCloseTo(0.9, 1);
    expect(q.advice).toMatch(/exposure down by about one stop: green is clipped on 9\d %/);
  });

  it("sees uneven light past spots", () => {
    const q = judge((u, v) => {
      const k = (0.25 + 0.75 * u) ** (1 / 2.2) * (Math.hypot(u - 0.5, v - 0.5) < 0.05 ? 0.4 : 1);
      return [200 * k, 200 * k, 200 * k];
    });
    expect(q.evenness).toBeGreaterThan(0.25);
    expect(q.evenness).toBeLessThan(0.45);
  });

  it("sees a plate that the frame cuts off", () => {
    const quad: Quad = [
      [100, 100],
      [500, 100],
      [500, 500],
      [100, 500],
    ];
    const q = judge(EVEN, quad);
    expect(q.cutOff).toBe(true);
    expect(q.advice).toMatch(/step back/);
  });

  it("a scan that is all plate is not cut off", () => {
    const quad: Quad = [
      [0, 0],
      [600, 0],
      [600, 500],
      [0, 500],
    ];
    expect(judge(EVEN, quad).cutOff).toBe(false);
  });
});

describe("the one most useful advice", () => {
  const good = {
    blurPx: 3,
    clipped: [0, 0, 0] as const,
    evenness: 0.9,
    platePx: 1200,
    cutOff: false,
  } satisfies Omit<PhotoQuality, "advice">;
  const grey = new Uint8Array(300).fill(120);

  it.each([
    [{}, null],
    [{ blurPx: 40 }, /hold the phone still/],
    [{ platePx: 300 }, /go closer.* 300 pixels/],
    [{ evenness: 0.2 }, /more evenly.* 20 %/],
    [{ clipped: [0.9, 0.9, 0.1] as const }, /two stops/],
    [{ clipped: [0.9, 0.9, 0.1] as const, cutOff: true }, /step back/],
  ])("for %j", (fault, words) => {
    const advice = advise({ ...good, ...fault }, grey);
    if (words === null) expect(advice).toBeNull();
    else expect(advice).toMatch(words);
  });

  it("of a black photo is more light", () => {
    expect(advise(good, new Uint8Array(300).fill(4))).toMatch(/exposure up/);
  });
});
