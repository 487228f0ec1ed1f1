import { describe, expect, it } from "vitest";
import type { LaneName } from "../../../src/model/index.ts";
import { quarterTurn, type Signs } from "../../../src/plate/upright/signs.ts";
import { laneAt, laneEvidenceOf } from "../../../src/plate/upright/told.ts";

const [WIDTH, HEIGHT] = [240, 160];
const CRUDE: LaneName = { label: "crude", fraction: null };
const fractions = (count: number): LaneName[] =>
  Array.from({ length: count }, (_, i) => ({ label: String(i + 1), fraction: i + 1 }));

/** Discs of spots and of darkness: across and down in shares of the sides. */
function drawn(spotsAt: readonly (readonly [number, number])[], darkAt: readonly (readonly [number, number])[]): Signs {
  const disc = (at: readonly (readonly [number, number])[], value: number) =>
    Float32Array.from({ length: WIDTH * HEIGHT }, (_, i) =>
      at.some(([x, y]) => Math.hypot((i % WIDTH) - x * WIDTH, Math.floor(i / WIDTH) - y * HEIGHT) < 4) ? value : 0,
    );
  const strokes = new Float32Array(WIDTH * HEIGHT);
  const soft = { width: WIDTH, height: HEIGHT, spots: disc(spotsAt, 12), shade: disc(darkAt, 3), blobs: [] };
  return { width: WIDTH, height: HEIGHT, strokes, soft };
}

const upsideDown = (signs: Signs) => quarterTurn(quarterTurn(signs));
const told = (names: readonly LaneName[], late: number | null = 0.5) => ({ names, late });

describe("lanes that are told", () => {
  // The last lane holds all three substances, the others one each.
  const lane = (i: number) => laneAt(i, 5);
  const signs = drawn(
    [
      [lane(0), 0.3],
      [lane(1), 0.3],
      [lane(2), 0.45],
      [lane(3), 0.6],
      ...[0.3, 0.45, 0.6].map((y) => [lane(4), y] as const),
    ],
    [0, 1, 2, 3, 4].map((i) => [lane(i), 0.92] as const),
  );

  it("show the reference where it is named: it holds what is in the fractions", () => {
    const last = told([...fractions(4), CRUDE]);
    expect(laneEvidenceOf(signs, last, 0).reference).toBeGreaterThan(0.5);
    expect(laneEvidenceOf(upsideDown(signs), last, 0).reference).toBeLessThan(0);
    const first = told([CRUDE, ...fractions(4)]);
    expect(laneEvidenceOf(signs, first, 0).reference).toBeLessThan(0);
    expect(laneEvidenceOf(upsideDown(signs), first, 0).reference).toBeGreaterThan(0.5);
  });

  it("show it too where all lanes stand off the middle", () => {
    const off = (i: number) => lane(i) - 0.08;
    const ones = [0, 1, 2, 3].map((i) => [off(i), [0.3, 0.45, 0.6][i % 3]] as const);
    const shifted = drawn([...ones, ...[0.3, 0.45, 0.6].map((y) => [off(4), y] as const)], []);
    const { reference } = laneEvidenceOf(shifted, told([...fractions(4), CRUDE]), 0);
    expect(reference).toBeGreaterThan(0.5);
    expect(laneEvidenceOf(upsideDown(shifted), told([...fractions(4), CRUDE]), 0).reference).toBeLessThan(0);
  });

  it("without a reference, or with nothing else, say nothing of it", () => {
    expect(laneEvidenceOf(signs, told(fractions(5)), 0).reference).toBe(0);
    expect(laneEvidenceOf(signs, told([CRUDE, CRUDE]), 0).reference).toBe(0);
  });

  it("have marks below them at their places", () => {
    const there = laneEvidenceOf(signs, told(fractions(5)), 0).marksBelow;
    expect(there).toBeGreaterThan(0.5);
    expect(laneEvidenceOf(upsideDown(signs), told(fractions(5)), 0).marksBelow).toBe(0);
    expect(laneEvidenceOf(signs, told(fractions(4)), 0).marksBelow).toBeLessThan(0.7 * there);
  });

  it("make a plate wide where they are many", () => {
    expect(laneEvidenceOf(signs, told(fractions(14)), 0).wide).toBeGreaterThan(0.2);
    expect(laneEvidenceOf(quarterTurn(signs), told(fractions(14)), 0).wide).toBeLessThan(-0.2);
    expect(laneEvidenceOf(quarterTurn(signs), told(fractions(3)), 0).wide).toBeGreaterThan(0.2);
  });

  it("hold what runs far early, and what lags late", () => {
    const high = -0.4;
    expect(laneEvidenceOf(signs, told(fractions(5), 0.2), high).order).toBeGreaterThan(0);
    expect(laneEvidenceOf(signs, told(fractions(5), 0.9), high).order).toBeLessThan(0);
    expect(laneEvidenceOf(signs, told(fractions(5), null), high).order).toBe(0);
  });
});
