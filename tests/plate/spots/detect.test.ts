import { describe, expect, it } from "vitest";
import { detectPeaks, smoothing } from "../../../src/plate/spots/detect.ts";
import { flagsOf } from "../../../src/plate/spots/flags.ts";
import { courseOf, heightAt, lengthOf, type Peak, sigmaBack, sigmaFront } from "../../../src/plate/spots/peaks.ts";
import { rfOfRow } from "../../../src/plate/spots/strip.ts";
import { type DrawnPeak, drawProfile, NOISE, noiseRows, PRIOR, toPeak } from "./profiles.ts";

const SEEDS = [1, 2, 3, 4, 5];
const found = (peaks: readonly DrawnPeak[], seed = 1): Peak[] =>
  detectPeaks(drawProfile(peaks, seed), noiseRows(), PRIOR);
/** Candidates that stand five noise widths high; what is lower is for the confidence to judge. */
const clear = (peaks: readonly Peak[]) => peaks.filter((p) => p.height > 5 * NOISE);
const rfs = (peaks: readonly Peak[]) => peaks.map((p) => rfOfRow(p.mode));

describe("detectPeaks", () => {
  it.each(SEEDS)("finds one peak where it is, as high and as wide as it was drawn (noise %i)", (seed) => {
    const [peak, ...more] = clear(found([{ rf: 0.42, height: 0.2 }], seed));
    expect(more).toEqual([]);
    expect(Math.abs(rfOfRow(peak.mode) - 0.42)).toBeLessThan(0.003);
    expect(peak.height / 0.2).toBeCloseTo(1, 1);
    expect(Math.abs(peak.logSigma - toPeak({ rf: 0, height: 1 }).logSigma)).toBeLessThan(0.15);
  });

  it.each(SEEDS)("finds a faint one at six noise widths (noise %i)", (seed) => {
    const near = rfs(found([{ rf: 0.55, height: 6 * NOISE }], seed)).filter((rf) => Math.abs(rf - 0.55) < 0.01);
    expect(near).toHaveLength(1);
  });

  it.each(SEEDS)("parts two 0.04 apart, each within 0.01 (noise %i)", (seed) => {
    const peaks = clear(
      found(
        [
          { rf: 0.4, height: 0.25, sigma: 0.013 },
          { rf: 0.44, height: 0.15, sigma: 0.013 },
        ],
        seed,
      ),
    );
    expect(peaks).toHaveLength(2);
    expect(Math.abs(rfOfRow(peaks[0].mode) - 0.4)).toBeLessThan(0.01);
    expect(Math.abs(rfOfRow(peaks[1].mode) - 0.44)).toBeLessThan(0.01);
    expect(peaks[0].height).toBeGreaterThan(peaks[1].height);
  });

  it("finds a weak one on the shoulder of a strong one", () => {
    const peaks = clear(
      found([
        { rf: 0.5, height: 0.4, sigma: 0.016 },
        { rf: 0.56, height: 0.1, sigma: 0.014 },
      ]),
    );
    expect(peaks).toHaveLength(2);
    expect(Math.abs(rfOfRow(peaks[1].mode) - 0.56)).toBeLessThan(0.012);
  });

  it.each(SEEDS)("leaves a flat-topped, overloaded peak one (noise %i)", (seed) => {
    const peaks = clear(found([{ rf: 0.35, height: 0.8, sigma: 0.03, flat: 0.6 }], seed));
    expect(peaks).toHaveLength(1);
    expect(Math.abs(rfOfRow(peaks[0].mode) - 0.35)).toBeLessThan(0.01);
    expect(peaks[0].flat).toBeGreaterThan(0.3);
  });

  it.each(SEEDS)("leaves a tailed peak one, its mode where it is, and tells the tail (noise %i)", (seed) => {
    const peaks = clear(found([{ rf: 0.5, height: 0.3, sigma: 0.02, tail: 0.35 }], seed));
    expect(peaks).toHaveLength(1);
    expect(Math.abs(rfOfRow(peaks[0].mode) - 0.5)).toBeLessThan(0.006);
    expect(sigmaBack(peaks[0]) / sigmaFront(peaks[0])).toBeGreaterThan(1.5);
  });

  it.each(SEEDS)("finds nothing clear in noise, and little at all (noise %i)", (seed) => {
    const peaks = found([], seed);
    expect(clear(peaks)).toEqual([]);
    expect(peaks.length).toBeLessThan(6);
  });

  it("finds nothing at all on a lane without signal", () => {
    expect(detectPeaks(new Float64Array(noiseRows().length), noiseRows(), PRIOR)).toEqual([]);
  });

  it("finds every spot of a full lane, in the order of their Rf", () => {
    const drawn = [0.08, 0.2, 0.33, 0.47, 0.6, 0.78].map((rf, i) => ({ rf, height: 0.05 + 0.05 * ((3 * i) % 5) }));
    const peaks = clear(found(drawn));
    expect(peaks).toHaveLength(6);
    rfs(peaks).forEach((rf, i) => {
      expect(Math.abs(rf - drawn[i].rf)).toBeLessThan(0.005);
    });
  });
});

describe("flagsOf", () => {
  const peak = (drawn: Partial<DrawnPeak>) => toPeak({ rf: 0.4, height: 0.3, ...drawn });

  it("says nothing of a spot alone in the middle", () => {
    expect(flagsOf(0.4, peak({}), [])).toEqual([]);
  });

  it.each([
    ["at-origin", 0.01, {}],
    ["at-front", 0.98, {}],
    ["overloaded", 0.4, { height: 1.3 }],
    ["streak", 0.4, { sigma: 0.05, tail: 0.6 }],
  ] as const)("tells %s", (flag, rf, drawn) => {
    expect(flagsOf(rf, peak({ rf, ...drawn }), [])).toEqual([flag]);
  });

  it("tells spots that touch: their halves meet (2.355 deviations apart), on either side", () => {
    for (const sign of [1, -1]) {
      expect(flagsOf(0.4, peak({}), [peak({ rf: 0.4 + sign * 0.045 })])).toEqual(["touching"]);
      expect(flagsOf(0.4, peak({}), [peak({ rf: 0.4 + sign * 0.05 })])).toEqual([]);
    }
  });
});

describe("lengthOf", () => {
  it.each([
    { rf: 0.5, height: 1 },
    { rf: 0.5, height: 1, tail: 0.4 },
    { rf: 0.5, height: 1, flat: 0.5 },
    { rf: 0.5, height: 1, tail: -0.2, flat: 1 },
  ])("is the area of a peak over its height, added up row by row: %o", (drawn) => {
    const peak = toPeak(drawn);
    let area = 0;
    for (let r = -200; r < 600; r += 0.05) area += 0.05 * heightAt(courseOf(peak), r);
    expect(lengthOf(peak) / area).toBeCloseTo(1, 3);
  });
});

describe("smoothing", () => {
  it("keeps a constant, borders included, and the sum of a point", () => {
    for (const v of smoothing(2)(new Float64Array(30).fill(3))) expect(v).toBeCloseTo(3, 10);
    const point = new Float64Array(41);
    point[20] = 1;
    expect(smoothing(2)(point).reduce((a, b) => a + b, 0)).toBeCloseTo(1, 10);
  });

  it.each(SEEDS)("takes a spot that blinds the camera for one, as high as its flanks tell (noise %i)", (seed) => {
    const whole = drawProfile([{ rf: 0.6, height: 2, sigma: 0.03 }], seed);
    const limit = 0.9;
    const seen = whole.map((v) => Math.min(v, limit));
    const saturated = Uint8Array.from(whole, (v) => (v > limit ? 1 : 0));
    const [peak, ...more] = clear(detectPeaks(seen, noiseRows(), PRIOR, saturated));
    expect(more).toEqual([]);
    expect(Math.abs(rfOfRow(peak.mode) - 0.6)).toBeLessThan(0.004);
    expect(peak.height).toBeGreaterThan(1.5);
    expect(peak.height).toBeLessThan(2.6);
    // Where nobody told that the camera was at its limit it is one as well, if a lower one.
    const [told, ...rest] = clear(detectPeaks(seen, noiseRows(), PRIOR));
    expect(rest).toEqual([]);
    expect(Math.abs(rfOfRow(told.mode) - 0.6)).toBeLessThan(0.02);
  });
});
