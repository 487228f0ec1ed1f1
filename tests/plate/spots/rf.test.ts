import { describe, expect, it } from "vitest";
import type { MigrationLine } from "../../../src/model/index.ts";
import { density } from "../../../src/plate/density/index.ts";
import { heightOfRf, type PlateFrame } from "../../../src/plate/frame.ts";
import { findSpots } from "../../../src/plate/spots/index.ts";
import { RF_STEPS, rfOfRow, rowOfRf } from "../../../src/plate/spots/strip.ts";
import { drawPlate } from "../density/drawnPlate.ts";

const line = (y: number, tilt = 0, bow = 0): MigrationLine => ({ y, tilt, bow, source: "found", sd: 0.001 });
const frameOf = (origin: MigrationLine, front: MigrationLine, lanes = [0.2, 0.5, 0.8]): PlateFrame => ({
  origin,
  front,
  pitch: 0.3,
  tracks: lanes.map((x) => ({ x, drift: 0 })),
});

/**
 * IUPAC Gold Book R05353: R_F = b/a, b the way of the spot's centre and a the way of the mobile phase, both from the
 * origin; hR_F = 100 R_F.
 */
describe("Rf as IUPAC defines it", () => {
  it("is b/a: on a plate 100 mm high, origin 12 mm from below, front 8 mm from above, 40 of 80 mm is 0.5", () => {
    const frame = frameOf(line(0.88), line(0.08));
    expect(heightOfRf(frame, 0.5, 0.5)).toBeCloseTo(0.48, 12);
    expect(heightOfRf(frame, 0.5, 0)).toBeCloseTo(0.88, 12);
    expect(heightOfRf(frame, 0.5, 1)).toBeCloseTo(0.08, 12);
  });

  it("is measured with a ruler on the drawn plate: b and a of each lane, where front and origin lean and bow", () => {
    const origin = line(0.87, 0.02);
    const front = line(0.1, -0.03, 0.03);
    const frame = frameOf(origin, front);
    // Ways in hundredths of the plate's height, as a ruler would give them.
    const ruler = [
      { u: 0.2, a: 74.42, b: 30 },
      { u: 0.5, a: 77, b: 50 },
      { u: 0.8, a: 77.42, b: 12 },
    ];
    const originAt = (u: number) => 0.87 + 0.02 * (u - 0.5);
    const frontAt = (u: number) => 0.1 - 0.03 * (u - 0.5) + 0.03 * (2 * u - 1) ** 2;
    for (const { u, a } of ruler) expect(100 * (originAt(u) - frontAt(u))).toBeCloseTo(a, 1);
    const spots = ruler.map(({ u, b }) => ({
      u,
      v: originAt(u) - b / 100,
      sigmaU: 0.04,
      sigmaV: 0.016,
      strength: [0.1, 0.25, 0.2] as const,
    }));
    const { lanes } = findSpots([density(drawPlate({ spots }))], frame);
    ruler.forEach(({ a, b }, i) => {
      expect(lanes[i].spots).toHaveLength(1);
      const { rf } = lanes[i].spots[0];
      expect(Math.abs(100 * rf - (100 * b) / a), "hRf").toBeLessThan(1);
    });
  });

  it("lies on one scale in every lane: rows and Rf turn into one another", () => {
    for (let r = 0; r < RF_STEPS; r += 13) expect(rowOfRf(rfOfRow(r))).toBeCloseTo(r, 9);
    expect(rfOfRow(0)).toBeLessThan(-0.05);
    expect(rfOfRow(RF_STEPS - 1)).toBeGreaterThan(1.05);
  });
});
