import { describe, expect, it } from "vitest";
import { lineAt } from "../../../src/model/index.ts";
import { density } from "../../../src/plate/density/index.ts";
import { findMarks } from "../../../src/plate/marks/index.ts";
import { rowAt } from "../../../src/plate/migration/curves.ts";
import { findMigration } from "../../../src/plate/migration/index.ts";
import { frontAlong, strokeLean } from "../../../src/plate/migration/strokeLean.ts";
import { type DrawnSpot, type DrawnStroke, drawPlate, heightAt, lampAside, lineAcross } from "../density/drawnPlate.ts";

const CENTRES = [0.01, 0.02, 0.03, 0.04, 0.05, 0.06, 0.07];
/** A ridge of rows around `row`, as strong as told. */
const piece = (row: number, strength = 1) =>
  Float32Array.from({ length: 200 }, (_, y) => strength * Math.exp(-((y + 0.5 - row) ** 2) / 8));

describe("a stroke at the edge", () => {
  it("is followed inwards, between rows", () => {
    const lean = strokeLean(
      CENTRES.map((u) => piece(60 + 80 * u)),
      CENTRES,
      60,
    );
    expect(lean.fall).toBeCloseTo(80, 0);
    expect(lean.y - lean.fall * lean.at).toBeCloseTo(60, 1);
  });

  it("ends where it is no longer seen, and may begin where the layer is not flaked off", () => {
    const strengths = [0, 1, 1, 1, 0.1, 1, 1];
    const lean = strokeLean(
      CENTRES.map((u, k) => piece(k < 4 ? 60 + 80 * u : 90, strengths[k])),
      CENTRES,
      61,
    );
    expect(lean.at).toBeCloseTo(0.03, 5);
    expect(Math.abs(lean.fall - 80)).toBeLessThan(2);
  });

  it("begins farther in where the outermost piece is brighter than what is above and below it", () => {
    const valley = new Float32Array(200).fill(-0.5);
    const lean = strokeLean([valley, ...CENTRES.slice(1).map((u) => piece(60 + 80 * u))], CENTRES, 61);
    expect(lean.at).toBeCloseTo(0.045, 5);
    expect(Math.abs(lean.fall - 80)).toBeLessThan(2);
  });

  it("says nothing of a lean where one piece shows it", () => {
    expect(strokeLean([piece(60), piece(60, 0), piece(60, 0)], CENTRES, 60)).toMatchObject({
      fall: 0,
      variance: Infinity,
    });
  });
});

describe("the front along a stroke", () => {
  it("passes through it and leans as it does, from either edge alike", () => {
    const lean = { at: 0.04, y: 80, fall: 60, variance: 0 };
    const [left, right] = [frontAlong(lean, 0, 500), frontAlong(lean, 1, 500)];
    expect(rowAt(left, 0.04)).toBeCloseTo(80, 9);
    expect(rowAt(right, 0.96)).toBeCloseTo(80, 9);
    expect((rowAt(left, 0.041) - rowAt(left, 0.04)) / 0.001).toBeCloseTo(60, 0);
    expect(right.y).toBeCloseTo(left.y, 9);
    expect(left.y).toBeGreaterThan(85);
  });

  it("is level where the lean is not known", () => {
    expect(frontAlong({ at: 0.04, y: 80, fall: 0, variance: Infinity }, 0, 500)).toMatchObject({ y: 80, tilt: 0 });
  });
});

describe("a front marked at one edge only", () => {
  const spots: DrawnSpot[] = [0.2, 0.4, 0.6, 0.8].flatMap((u, i) =>
    [0.3, 0.42 + 0.05 * i].map((rf) => ({
      u,
      v: heightAt(rf),
      sigmaU: 0.024,
      sigmaV: 0.017,
      strength: [0.1, 0.2, 0.16] as const,
    })),
  );
  const migrationOf = (tick: DrawnStroke) => {
    const map = density(drawPlate({ lamp: lampAside, spots, strokes: [lineAcross(0.87), tick] }));
    return findMigration([map], [findMarks(map)], { origin: null, front: null });
  };

  it("is where a plain tick says", () => {
    const { front } = migrationOf({ from: [0.002, 0.12], to: [0.07, 0.12], half: 0.9, density: 0.3 });
    expect(front.source).toBe("found");
    expect(Math.abs(front.y - 0.12)).toBeLessThan(0.004);
  });

  it("is where a tick begins that is flaked off at the very rim", () => {
    const { front } = migrationOf({ from: [0.02, 0.12], to: [0.1, 0.12], half: 0.9, density: 0.3 });
    expect(Math.abs(front.y - 0.12)).toBeLessThan(0.004);
  });

  it("runs higher in the middle where the tick rises inwards", () => {
    const { front } = migrationOf({ from: [0.998, 0.15], to: [0.92, 0.143], half: 0.9, density: 0.3 });
    expect(front.y).toBeLessThan(0.135);
    expect(front.y).toBeGreaterThan(0.115);
    expect(Math.abs(lineAt(front, 0.96) - 0.1465)).toBeLessThan(0.005);
  });
});
