import { describe, expect, it } from "vitest";
import { darkestRow } from "../../../src/plate/spots/darkest.ts";
import { detectPeaks } from "../../../src/plate/spots/detect.ts";
import { rfOfRow } from "../../../src/plate/spots/strip.ts";
import { type DrawnPeak, drawProfile, noiseRows, PRIOR, toPeak } from "./profiles.ts";

/** A streak back to the origin: as dark as a step there, darkest a little behind its steep front. */
function streak(): Float64Array {
  const noise = drawProfile([{ rf: 0.4, height: 0.1, sigma: 0.05 }]);
  return noise.map(
    (v, r) => v + 0.2 / (1 + Math.exp((rfOfRow(r) - 0.48) / 0.008)) / (1 + Math.exp(-rfOfRow(r) / 0.008)),
  );
}

describe("darkestRow", () => {
  it("finds the darkest place of a streak behind its steep front", () => {
    const profile = streak();
    const peaks = detectPeaks(profile, noiseRows(), PRIOR);
    const peak = peaks.reduce((a, b) => (b.height > a.height ? b : a));
    const others = peaks.filter((p) => p !== peak);
    expect(Math.abs(rfOfRow(peak.mode) - 0.4)).toBeGreaterThan(0.02);
    expect(Math.abs(rfOfRow(darkestRow(profile, peak, others)) - 0.4)).toBeLessThan(0.005);
  });

  it("leaves an even spot where it was fitted", () => {
    const peak = toPeak({ rf: 0.5, height: 0.3 });
    expect(darkestRow(drawProfile([{ rf: 0.53, height: 0.3 }]), peak, [])).toBe(peak.mode);
  });

  it("does not take the flank of another spot for a tailed one's top", () => {
    const [tailed, other]: DrawnPeak[] = [
      { rf: 0.5, height: 0.1, tail: 0.5 },
      { rf: 0.4, height: 0.6 },
    ];
    const row = darkestRow(drawProfile([tailed, other]), toPeak(tailed), [toPeak(other)]);
    expect(Math.abs(rfOfRow(row) - 0.5)).toBeLessThan(0.015);
  });
});
