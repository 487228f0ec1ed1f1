import { describe, expect, it } from "vitest";
import { density } from "../../../src/plate/density/index.ts";
import { findMarks } from "../../../src/plate/marks/index.ts";
import { findSpots } from "../../../src/plate/spots/index.ts";
import { pencilAtOrigin } from "../../../src/plate/spots/pencil.ts";
import { type DrawnSpot, drawPlate, heightAt, lampAside, tick } from "../density/drawnPlate.ts";
import { levelFrame } from "./frames.ts";

const LANES = [0.14, 0.26, 0.38, 0.5, 0.62, 0.74, 0.86];
const frame = levelFrame(LANES, 0.12);
const blob = (u: number, rf: number, d: number, sigma = 0.02): DrawnSpot => ({
  u,
  v: heightAt(rf),
  sigmaU: sigma,
  sigmaV: 0.75 * sigma,
  strength: [0.5 * d, d, 0.8 * d],
});

describe("pencil at the origin", () => {
  it("is seen lane by lane", () => {
    const map = density(drawPlate({ lamp: lampAside, strokes: LANES.slice(0, 5).map((u) => tick(u, 0.87)) }));
    const { lanes, share } = pencilAtOrigin(findMarks(map), map, frame);
    expect(lanes).toEqual([true, true, true, true, true, false, false]);
    expect(share).toBeCloseTo(5 / 7);
  });

  it("is none where marks stand elsewhere", () => {
    const map = density(drawPlate({ lamp: lampAside, strokes: LANES.map((u) => tick(u, 0.94)) }));
    expect(pencilAtOrigin(findMarks(map), map, frame).share).toBe(0);
  });
});

it("blurred dots of one strength on every origin are marks, what moved is a spot", () => {
  const dots = LANES.map((u) => blob(u, 0, 0.06, 0.009));
  const moved = LANES.map((u, i) => blob(u, 0.3 + 0.05 * i, 0.2));
  const map = density(drawPlate({ lamp: lampAside, spots: [...dots, ...moved] }));
  const { lanes } = findSpots([map], frame, [findMarks(map)]);
  lanes.forEach(({ spots }, i) => {
    expect(spots).toHaveLength(1);
    expect(spots[0].rf).toBeCloseTo(0.3 + 0.05 * i, 1);
  });
});
