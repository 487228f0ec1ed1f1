import { describe, expect, it } from "vitest";
import { density } from "../../../src/plate/density/index.ts";
import { findMarks } from "../../../src/plate/marks/index.ts";
import type { MarkRow } from "../../../src/plate/view.ts";
import { type DrawnStroke, drawPlate, figure, lampAside, tick } from "../density/drawnPlate.ts";

const HEIGHT = 600;
const LANES = [0.14, 0.26, 0.38, 0.5, 0.62, 0.74, 0.86];
/** Tubes 1, 4, 7, 10, 13, 16, 12 as a hand writes them, no two figures of one size. */
const labels = (v: number): DrawnStroke[] =>
  [[1], [4], [7], [1, 0], [1, 3], [1, 6], [1, 2]].flatMap((digits, i) =>
    digits.flatMap((digit, k) =>
      figure(digit, LANES[i] + 0.026 * (k - (digits.length - 1) / 2), v, 0.026 + 0.004 * ((i + k) % 3)),
    ),
  );
const ticks = (v: number, tilt = 0): DrawnStroke[] => LANES.map((u) => tick(u, v + tilt * (u - 0.5)));
const marksOf = (strokes: readonly DrawnStroke[]): MarkRow[] =>
  findMarks(density(drawPlate({ lamp: lampAside, strokes })));

/** How many of the lanes have a mark of the row. */
const covered = (row: MarkRow): number =>
  LANES.filter((u) => row.marks.some((m) => Math.abs((m.x0 + m.x1) / 2 / 450 - u) < 0.02)).length;

describe("findMarks", () => {
  it("finds a row of ticks at its height, all alike", () => {
    const [row, ...more] = marksOf(ticks(0.87));
    expect(more).toEqual([]);
    expect(covered(row)).toBe(7);
    expect(row.y / HEIGHT).toBeCloseTo(0.87, 2);
    expect(row.alike).toBe(true);
  });

  it("follows a row that rises from left to right", () => {
    const [row] = marksOf(ticks(0.87, -0.03));
    expect(covered(row)).toBe(7);
    expect(row.tilt / HEIGHT).toBeCloseTo(-0.03, 2);
    expect(row.y / HEIGHT).toBeCloseTo(0.87, 2);
  });

  it("tells figures from ticks: figures differ in width", () => {
    const [row] = marksOf(labels(0.93));
    expect(covered(row)).toBeGreaterThanOrEqual(6);
    expect(row.y / HEIGHT).toBeCloseTo(0.93, 2);
    expect(row.alike).toBe(false);
  });

  it("keeps ticks and the figures below them apart", () => {
    const rows = marksOf([...ticks(0.86), ...labels(0.93)]);
    const heights = rows.map((r) => r.y / HEIGHT).sort((a, b) => a - b);
    expect(heights).toHaveLength(2);
    expect(heights[0]).toBeCloseTo(0.86, 2);
    expect(heights[1]).toBeCloseTo(0.93, 2);
  });

  it("takes two ticks for a row where a scratch crosses the third", () => {
    const scratch: DrawnStroke = { from: [0.42, 0.85], to: [0.6, 0.9], half: 0.9, density: 0.25 };
    const [row] = marksOf([...[0.2, 0.5, 0.8].map((u) => tick(u, 0.87, 0.04)), scratch]);
    expect(row.marks).toHaveLength(2);
    expect(row.y / HEIGHT).toBeCloseTo(0.87, 2);
  });

  it("puts a tick together that a spot hides in the middle", () => {
    const halves = [0.2, 0.5, 0.8].flatMap((u) => [tick(u, 0.86, 0.014), tick(u, 0.884, 0.014)]);
    const rows = marksOf(halves);
    expect(rows).toHaveLength(1);
    expect(rows[0].y / HEIGHT).toBeCloseTo(0.872, 2);
  });

  it("takes no spots, no bare layer and nothing high on the plate for marks", () => {
    expect(marksOf([])).toEqual([]);
    expect(marksOf(ticks(0.4))).toEqual([]);
    const spots = LANES.map((u) => ({
      u,
      v: 0.8,
      sigmaU: 0.028,
      sigmaV: 0.021,
      strength: [0.3, 0.3, 0.3] as const,
    }));
    expect(findMarks(density(drawPlate({ spots })))).toEqual([]);
  });
});
