import { beforeAll, describe, expect, it } from "vitest";
import type { Spot } from "../../../src/model/index.ts";
import { density } from "../../../src/plate/density/index.ts";
import type { PlateFrame } from "../../../src/plate/frame.ts";
import { candidateSpots, findSpots, type LaneSpots } from "../../../src/plate/spots/index.ts";
import {
  type DrawnPlate,
  type DrawnSpot,
  drawPlate,
  figure,
  heightAt,
  lampAside,
  lineAcross,
} from "../density/drawnPlate.ts";

const ORIGIN = 0.87;
const FRONT = 0.1;
const LANES = [0.1, 0.233, 0.367, 0.5, 0.633, 0.767, 0.9];
const PITCH = 0.1333;
const line = (y: number) => ({ y, tilt: 0, bow: 0, source: "found" as const, sd: 0.001 });
const frame: PlateFrame = {
  origin: line(ORIGIN),
  front: line(FRONT),
  pitch: PITCH,
  tracks: LANES.map((x) => ({ x, drift: 0 })),
};

/** Rf and density of what was spotted on each lane; lane 4 is empty. */
const DRAWN: readonly (readonly (readonly [rf: number, density: number])[])[] = [
  [
    [0.25, 0.4],
    [0.62, 0.2],
  ],
  [[0.26, 0.25]],
  [
    [0.24, 0.1],
    [0.5, 0.08],
  ],
  [],
  [
    [0.5, 0.3],
    [0.61, 0.12],
  ],
  [[0.63, 0.06]],
  [
    [0.6, 0.25],
    [0.82, 0.12],
  ],
];

function spotAt(lane: number, rf: number, d: number, more: Partial<DrawnSpot> = {}): DrawnSpot {
  const v = heightAt(rf, ORIGIN, FRONT);
  return { u: LANES[lane], v, sigmaU: 0.024, sigmaV: 0.015, strength: [0.5 * d, d, 0.8 * d], ...more };
}

const spots = DRAWN.flatMap((inLane, lane) => inLane.map(([rf, d]) => spotAt(lane, rf, d)));
const lines = [lineAcross(ORIGIN), lineAcross(FRONT)];

function read(plate: DrawnPlate): LaneSpots[] {
  return findSpots([density(drawPlate({ lamp: lampAside, strokes: lines, ...plate }))], frame).lanes;
}

/** Spots that the reader stands by. */
const sure = (lane: LaneSpots): Spot[] => lane.spots.filter((s) => s.confidence > 0.5);

function expectDrawn(lanes: readonly LaneSpots[]): void {
  lanes.forEach((lane, i) => {
    const rfs = sure(lane).map((s) => s.rf);
    expect(rfs, `lane ${i + 1}: ${rfs}`).toHaveLength(DRAWN[i].length);
    DRAWN[i].forEach(([rf], k) => {
      expect(Math.abs(rfs[k] - rf), `lane ${i + 1}, Rf ${rf}`).toBeLessThan(0.01);
    });
  });
}

describe("a clean plate", () => {
  let lanes: LaneSpots[];
  beforeAll(() => {
    lanes = read({ spots });
  });

  it("gives every spot in its lane, Rf within 0.01, and no other", () => {
    expectDrawn(lanes);
  });

  it("tells places on the plate and widths", () => {
    lanes.forEach((lane, i) => {
      sure(lane).forEach((spot, k) => {
        expect(Math.abs(spot.x - LANES[i]) / PITCH).toBeLessThan(0.1);
        expect(Math.abs(spot.y - heightAt(DRAWN[i][k][0], ORIGIN, FRONT))).toBeLessThan(0.006);
        expect(spot.widthRf).toBeGreaterThan((0.7 * 2.355 * 0.015) / (ORIGIN - FRONT));
        expect(spot.widthRf).toBeLessThan((1.5 * 2.355 * 0.015) / (ORIGIN - FRONT));
        expect(spot.widthX / (2.355 * 0.024)).toBeGreaterThan(0.7);
        expect(spot.widthX / (2.355 * 0.024)).toBeLessThan(1.5);
        expect(spot.flags).toEqual([]);
        expect(spot.lights).toEqual(["uv254"]);
      });
    });
  });

  it("gives amounts in proportion to what was spotted, within a fifth", () => {
    const ratios = lanes.flatMap((lane, i) => sure(lane).map((s, k) => s.amount / DRAWN[i][k][1]));
    const middle = [...ratios].sort((a, b) => a - b)[ratios.length >> 1];
    for (const ratio of ratios) expect(Math.abs(ratio / middle - 1)).toBeLessThan(0.2);
  });

  it("states what would have been missed: less than the faintest spot seen", () => {
    const faintest = Math.min(...lanes.flatMap((lane) => sure(lane).map((s) => s.amount)));
    for (const { detectionLimit } of lanes) {
      expect(detectionLimit).toHaveLength(1);
      expect(detectionLimit[0]).toBeGreaterThan(0);
      expect(detectionLimit[0]).toBeLessThan(faintest);
    }
  });
});

it("dust, a scratch and pencil figures are no spots", () => {
  const dust = [
    [0.51, 0.5],
    [0.36, 0.7],
    [0.78, 0.45],
    [0.12, 0.66],
    [0.63, 0.25],
  ].map(([u, v]) => ({ from: [u, v], to: [u + 0.002, v + 0.001], half: 1.3, density: 0.5 }) as const);
  const scratch = { from: [0.3, 0.75], to: [0.72, 0.3], half: 0.8, density: 0.3 } as const;
  const labels = LANES.flatMap((u, i) => figure(i + 1, u, 0.93));
  const name = [5, 4, 2].flatMap((digit, k) => figure(digit, 0.47 + 0.035 * k, 0.2, 0.03));
  expectDrawn(read({ spots, strokes: [...lines, ...dust, scratch, ...labels, ...name] }));
});

it("a bare plate holds nothing", () => {
  for (const lane of read({})) expect(sure(lane)).toEqual([]);
});

it("two spots whose feet overlap are two, each Rf within 0.015", () => {
  const pair = [spotAt(3, 0.4, 0.3, { sigmaV: 0.014 }), spotAt(3, 0.46, 0.2, { sigmaV: 0.014 })];
  const rfs = sure(read({ spots: [...spots, ...pair] })[3]).map((s) => s.rf);
  expect(rfs).toHaveLength(2);
  expect(Math.abs(rfs[0] - 0.4)).toBeLessThan(0.015);
  expect(Math.abs(rfs[1] - 0.46)).toBeLessThan(0.015);
});

it("an overloaded spot is one, and told", () => {
  const heavy = spotAt(3, 0.45, 1.5, { sigmaV: 0.024, sigmaU: 0.03, exponent: 3.5 });
  const found = sure(read({ spots: [...spots, heavy] })[3]);
  expect(found).toHaveLength(1);
  expect(Math.abs(found[0].rf - 0.45)).toBeLessThan(0.01);
  expect(found[0].flags).toContain("overloaded");
});

it("a streak is told, and its Rf is that of the front edge's maximum", () => {
  const streak = spotAt(3, 0.55, 0.3, { tail: 5 });
  const found = sure(read({ spots: [...spots, streak] })[3]);
  const lead = found.reduce((a, b) => (b.amount > a.amount ? b : a));
  expect(Math.abs(lead.rf - 0.55)).toBeLessThan(0.02);
  expect(lead.flags).toContain("streak");
  expect(lead.tailing).toBeGreaterThan(2);
});

it("what stays at the origin is flagged", () => {
  const found = sure(read({ spots: [...spots, spotAt(3, 0, 0.4)] })[3]);
  expect(found).toHaveLength(1);
  expect(found[0].rf).toBeLessThan(0.015);
  expect(found[0].flags).toContain("at-origin");
});

it("a spot seen under one light only keeps a response for each photo", () => {
  const green = density(drawPlate({ lamp: lampAside, strokes: lines, spots }));
  const stain = density(
    drawPlate({ light: "white", ground: [0.7, 0.68, 0.6], strokes: lines, spots: [spotAt(3, 0.4, 0.2)], seed: 8 }),
  );
  const { lanes } = findSpots([green, stain], frame);
  const [spot, ...more] = sure(lanes[3]);
  expect(more).toEqual([]);
  expect(spot.lights).toEqual(["white"]);
  expect(spot.responses.map((r) => r.light)).toEqual(["uv254", "white"]);
  expect(spot.responses[1].contrastToNoise).toBeGreaterThan(5 * Math.max(1, spot.responses[0].contrastToNoise));
  expect(spot.responses[1].amount).toBe(spot.amount);
});

it("candidates for the confidence are at least what is handed on", () => {
  const map = density(drawPlate({ lamp: lampAside, strokes: lines, spots }));
  const candidates = candidateSpots([map], frame).map((lane) => lane.length);
  findSpots([map], frame).lanes.forEach((lane, i) => {
    expect(candidates[i]).toBeGreaterThanOrEqual(lane.spots.length);
  });
});

it("finds the spots of a lane at the very edge of a plate with a dark rim", () => {
  const moved = 0.05;
  const tracks = frame.tracks.map(({ x }) => ({ x: x + moved, drift: 0 }));
  const drawn = spots.map((spot) => ({ ...spot, u: spot.u + moved }));
  const rim = { from: [0.995, 0] as const, to: [0.995, 1] as const, half: 4, density: 0.8 };
  const plate = drawPlate({ lamp: lampAside, strokes: [...lines, rim], spots: drawn });
  expectDrawn(findSpots([density(plate)], { ...frame, tracks }).lanes);
});
