import { describe, expect, it } from "vitest";
import { courseOf, heightAt } from "../../../src/plate/spots/peaks.ts";
import { joinedPlateaus } from "../../../src/plate/spots/plateau.ts";
import { RF_STEPS, rfOfRow } from "../../../src/plate/spots/strip.ts";
import { type DrawnPeak, toPeak } from "./profiles.ts";

const profile = (drawn: readonly DrawnPeak[], limit = Number.POSITIVE_INFINITY) =>
  Float64Array.from({ length: RF_STEPS }, (_, r) =>
    Math.min(
      limit,
      drawn.reduce((sum, p) => sum + heightAt(courseOf(toPeak(p)), r), 0),
    ),
  );

describe("joinedPlateaus", () => {
  it("makes the two ends of a flat top one spot in its middle", () => {
    const top = profile([{ rf: 0.5, height: 3, sigma: 0.04 }], 0.9);
    const { peaks, joined } = joinedPlateaus(
      [toPeak({ rf: 0.46, height: 0.8, sigma: 0.02 }), toPeak({ rf: 0.54, height: 0.8, sigma: 0.02 })],
      top,
    );
    expect(joined).toBe(true);
    expect(peaks).toHaveLength(1);
    expect(rfOfRow(peaks[0].mode)).toBeCloseTo(0.5, 2);
  });

  it.each([
    ["parted by a valley", [0.44, 0.56], [0.8, 0.8]],
    ["too near each other to leave a valley", [0.485, 0.515], [0.8, 0.8]],
    ["a spot and its shoulder", [0.47, 0.52], [0.3, 0.9]],
  ])("leaves two peaks that are %s", (_, rfs, heights) => {
    const drawn = rfs.map((rf, i) => ({ rf, height: heights[i], sigma: 0.02 }));
    const { peaks, joined } = joinedPlateaus(drawn.map(toPeak), profile(drawn));
    expect(joined).toBe(false);
    expect(peaks.map((p) => p.height)).toEqual(heights);
  });
});
