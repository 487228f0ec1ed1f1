import { describe, expect, it } from "vitest";
import { detectPeaks } from "../../../src/plate/spots/detect.ts";
import type { Peak } from "../../../src/plate/spots/peaks.ts";
import { shoulders } from "../../../src/plate/spots/split.ts";
import { rfOfRow } from "../../../src/plate/spots/strip.ts";
import { type DrawnPeak, drawProfile, NOISE, noiseRows, PRIOR } from "./profiles.ts";

/** What the plate's clear spots are like, once there are some: narrower than the two of a pair together. */
const USUAL = { ...PRIOR, logSigma: Math.log(7.6), logSigmaSd: 0.35, tail: 0.26, tailSd: 0.25 };
const found = (drawn: readonly DrawnPeak[], seed: number): Peak[] =>
  detectPeaks(drawProfile(drawn, seed), noiseRows(), USUAL).filter((p) => p.height > 8 * NOISE);
const SEEDS = [1, 2, 3, 4, 5];

/** Two that touch, each tailed like the others of the plate: the lower one has no top of its own. */
const upper = { rf: 0.558, height: 0.19, sigma: 0.022, tail: 0.2, flat: 0.24 };
const lower = { rf: 0.497, height: 0.128, sigma: 0.027, tail: 0.26 };

describe("two spots that touch", () => {
  it.each(SEEDS)("are two, not one that tails, though only one has a top (noise %i)", (seed) => {
    for (const share of [1, 0.85]) {
      const peaks = found([upper, { ...lower, height: share * lower.height }], seed);
      expect(peaks.map((p) => Math.abs(rfOfRow(p.mode) - 0.497) < 0.015)).toContain(true);
      expect(peaks.map((p) => Math.abs(rfOfRow(p.mode) - 0.558) < 0.015)).toContain(true);
      expect(peaks).toHaveLength(2);
    }
  });

  it.each(SEEDS)("are not made of one that is broad or tails far (noise %i)", (seed) => {
    expect(found([{ rf: 0.5, height: 0.19, sigma: 0.045, tail: 0.26 }], seed)).toHaveLength(1);
    expect(found([{ rf: 0.5, height: 0.19, sigma: 0.035, tail: 0.7 }], seed)).toHaveLength(1);
  });

  it("are looked for where a peak is broader or leans more than the plate's spots alone", () => {
    const profile = drawProfile([upper, lower]);
    const at = (more: Partial<Peak>) =>
      shoulders(
        [{ height: 0.19, mode: 187, logSigma: USUAL.logSigma, tail: USUAL.tail, flat: 0, ...more }],
        profile,
        noiseRows(),
        USUAL,
      );
    expect(at({})).toEqual([]);
    expect(at({ logSigma: USUAL.logSigma + 0.5 })[0].rows).toHaveLength(2);
    expect(at({ tail: USUAL.tail + 0.5 })[0].rows).toHaveLength(2);
  });
});
