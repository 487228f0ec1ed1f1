import { describe, expect, it } from "vitest";
import type { PlateFrame } from "../../../src/plate/frame.ts";
import { laneProfiles } from "../../../src/plate/spots/profile.ts";
import { rowOfRf } from "../../../src/plate/spots/strip.ts";
import { makePlane } from "../../../src/raster/picture.ts";

const [WIDTH, HEIGHT, LANES] = [480, 400, 6];
const PITCH = 1 / (LANES + 1);
const line = (y: number) => ({ y, tilt: 0, bow: 0, sd: 0.002, source: "found" as const });
const FRAME: PlateFrame = {
  origin: line(0.9),
  front: line(0.1),
  pitch: PITCH,
  tracks: Array.from({ length: LANES }, (_, i) => ({ x: (i + 1) * PITCH, drift: 0 })),
};

/** The profiles of a plate that shows at each place what `at` says, by its x in lanes and its Rf. */
const profilesOf = (at: (lane: number, rf: number) => number) => {
  const plane = makePlane(WIDTH, HEIGHT);
  for (let y = 0; y < HEIGHT; y++)
    for (let x = 0; x < WIDTH; x++)
      plane.data[y * WIDTH + x] = at((x + 0.5) / WIDTH / PITCH, (0.9 - (y + 0.5) / HEIGHT) / 0.8);
  return laneProfiles({ plane, noise: 0.002 }, FRAME, 0.19).profiles;
};
const blob = (d: number, rf: number, across: number) =>
  Math.exp(-0.5 * (d / across) ** 2 - 0.5 * ((rf - 0.5) / 0.03) ** 2);
const row = Math.round(rowOfRf(0.5));

describe("laneProfiles", () => {
  it("lets wide spots that touch in all lanes stand as high as they are", () => {
    const all = (lane: number, rf: number) =>
      [0, 1, 2, 3, 4, 5, 6, 7].reduce((most, k) => Math.max(most, blob(lane - k, rf, 0.4)), 0);
    for (const profile of profilesOf(all)) expect(profile[row]).toBeGreaterThan(0.75);
  });

  it("shows nothing in the other lanes where one is far below the ground", () => {
    const [first, ...others] = profilesOf((lane, rf) => -blob(lane - 1, rf, 0.45));
    expect(first[row]).toBeLessThan(-0.7);
    for (const profile of others.slice(1)) expect(Math.abs(profile[row])).toBeLessThan(0.02);
  });

  it("takes a broad step of the ground off", () => {
    for (const profile of profilesOf((_, rf) => (rf > 0.3 ? 0.1 : 0)))
      expect(Math.abs(profile[row])).toBeLessThan(0.01);
  });
});
