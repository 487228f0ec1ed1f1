import { describe, expect, it } from "vitest";
import { figureOdds } from "../../../src/plate/migration/figureLike.ts";
import type { MarkRow } from "../../../src/plate/view.ts";

const WIDTH = 400;
const HEIGHT = 600;

/** A row of like marks at even places, the middle `y` of them as a share of the height. */
function row(y: number, wide: number, high: number, xs: readonly number[]): MarkRow {
  const top = Math.round(y * HEIGHT - high / 2);
  const marks = xs.map((x) => ({
    x0: x,
    x1: x + wide,
    y0: top,
    y1: top + high,
    area: wide * high,
    cx: x + wide / 2,
    cy: y * HEIGHT,
  }));
  return { marks, y: y * HEIGHT, tilt: 0, size: high, alike: true };
}

const LANES = [50, 120, 190, 260, 330];

describe("figures rather than origin marks", () => {
  it("are tall and stand low; ticks are slender and dots are small", () => {
    expect(figureOdds(row(0.92, 14, 26, LANES), WIDTH, HEIGHT)).toBeGreaterThan(0.9);
    expect(figureOdds(row(0.87, 3, 20, LANES), WIDTH, HEIGHT)).toBeLessThan(0.1);
    expect(figureOdds(row(0.86, 7, 7, LANES), WIDTH, HEIGHT)).toBeLessThan(0.3);
  });

  it("have two digits, unlike marks", () => {
    const twos = LANES.flatMap((x) => [x, x + 11]);
    const one = figureOdds(row(0.87, 9, 12, LANES), WIDTH, HEIGHT);
    expect(figureOdds(row(0.87, 9, 12, twos), WIDTH, HEIGHT)).toBeGreaterThan(1.5 * one);
  });

  it("differ in height and width, unlike marks", () => {
    const { marks, ...rest } = row(0.87, 9, 12, LANES);
    const wider = marks.map((m, i) => ({ ...m, x1: m.x1 + 4 * i }));
    const higher = marks.map((m, i) => ({ ...m, y1: m.y1 + 4 * i }));
    const alike = figureOdds({ marks, ...rest }, WIDTH, HEIGHT);
    for (const unlike of [wider, higher])
      expect(figureOdds({ ...rest, marks: unlike }, WIDTH, HEIGHT)).toBeGreaterThan(2 * alike);
  });

  it("are not the many pieces of a dotted line", () => {
    const pieces = Array.from({ length: 60 }, (_, i) => 40 + 4 * i);
    expect(figureOdds(row(0.81, 3, 3, pieces), WIDTH, HEIGHT)).toBeLessThan(0.3);
  });
});
