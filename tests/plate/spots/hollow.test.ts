import { describe, expect, it } from "vitest";
import { hollowsFilled } from "../../../src/plate/spots/hollow.ts";
import { makePlane } from "../../../src/raster/picture.ts";

const SIZE = 120;

/** What stands at distance d from the middle of the plane. */
const drawn = (at: (d: number, x: number, y: number) => number) => {
  const plane = makePlane(SIZE, SIZE);
  for (let y = 0; y < SIZE; y++)
    for (let x = 0; x < SIZE; x++) plane.data[y * SIZE + x] = at(Math.hypot(x - 60, y - 60), x, y);
  return plane;
};
const middleOf = (data: Float32Array) => data[60 * SIZE + 60];
const ring = (d: number) => Math.exp(-0.5 * ((d - 20) / 6) ** 2);

describe("hollowsFilled", () => {
  it("fills a bright ring up to its rim and leaves what is outside", () => {
    const { data } = hollowsFilled(drawn(ring));
    expect(middleOf(data)).toBeGreaterThan(0.9);
    expect(data[60 * SIZE + 110]).toBeLessThan(0.01);
  });

  it("fills no higher than the lowest place of the rim", () => {
    const { data } = hollowsFilled(drawn((d, x, y) => ring(d) * (x > 60 && Math.abs(y - 60) < 8 ? 0.3 : 1)));
    expect(middleOf(data)).toBeGreaterThan(0.2);
    expect(middleOf(data)).toBeLessThan(0.4);
  });

  it("leaves a bay open to the edge, and a spot, as they are", () => {
    const bay = drawn((d, x, y) => (x > 60 && Math.abs(y - 60) < 8 ? 0 : ring(d)));
    expect(middleOf(hollowsFilled(bay).data)).toBeLessThan(0.05);
    const spot = drawn((d) => Math.exp(-0.5 * (d / 15) ** 2));
    expect(hollowsFilled(spot).data).toEqual(spot.data);
  });
});
