import { describe, expect, it } from "vitest";
import { detectPeaks, weighed } from "../../../src/plate/spots/detect.ts";
import { evidenceVector, type SpotEvidence, spotConfidence } from "../../../src/plate/spots/evidence.ts";
import { levelsBeside, partedAt, type Standing } from "../../../src/plate/spots/levels.ts";
import { rfOfRow, rowOfRf } from "../../../src/plate/spots/strip.ts";
import { type DrawnPeak, drawProfile, noiseRows, PRIOR } from "./profiles.ts";

/** What the plate's clear spots are like, once there are some. */
const USUAL = { ...PRIOR, logSigma: Math.log(6), logSigmaSd: 0.35, tail: 0, tailSd: 0.25 };
const SEEDS = [1, 2, 3, 4, 5];

function parted(drawn: readonly DrawnPeak[], levels: readonly number[], seed: number) {
  const profile = drawProfile(drawn, seed);
  const peaks = detectPeaks(profile, noiseRows(), USUAL);
  const more = partedAt(weighed(profile, noiseRows(), null), peaks, levels.map(rowOfRf), USUAL);
  const rfs = (of: readonly { readonly mode: number }[]) => of.map(({ mode }) => rfOfRow(mode));
  return { before: rfs(peaks), after: more && rfs(more.peaks), put: more && rfs(more.put) };
}

describe("two spots that run into one another", () => {
  it.each(SEEDS)("are parted where the lanes beside show their places (noise %i)", (seed) => {
    const { before, after, put } = parted(
      [
        { rf: 0.5, height: 0.3 },
        { rf: 0.54, height: 0.25 },
      ],
      [0.5, 0.54],
      seed,
    );
    expect(before).toHaveLength(1);
    expect(after).toHaveLength(2);
    expect(Math.abs(after![0] - 0.5)).toBeLessThan(0.012);
    expect(Math.abs(after![1] - 0.54)).toBeLessThan(0.012);
    expect(put!.length).toBeGreaterThan(0);
  });

  it.each(SEEDS)("are not made of one spot because the lanes beside show another near it (noise %i)", (seed) => {
    expect(parted([{ rf: 0.5, height: 0.3 }], [0.5, 0.54], seed).after).toBeNull();
    expect(parted([{ rf: 0.5, height: 0.3 }], [0.46], seed).after).toBeNull();
    expect(parted([{ rf: 0.5, height: 0.3 }], [0.7], seed).after).toBeNull();
  });
});

describe("levelsBeside", () => {
  const at = (rf: number, confidence = 0.99, stretch = 0): Standing => ({
    mode: rowOfRf(rf),
    spot: { confidence, rf },
    features: { stretch },
  });

  it("takes clear spots of the two lanes on either side, those at one level once", () => {
    const lanes = [[at(0.9)], [at(0.3)], [at(0.505)], [at(0.8)], [at(0.495), at(0.2)], [], [at(0.7)]];
    const rfs = levelsBeside(lanes, 3).map(rfOfRow);
    expect(rfs.map((rf) => Number(rf.toFixed(3))).sort()).toEqual([0.2, 0.3, 0.5]);
  });

  it("passes over what is unsure, broad, or on the start line", () => {
    expect(levelsBeside([[at(0.5, 0.9), at(0.4, 0.99, 0.5), at(0.02)], []], 1)).toEqual([]);
  });
});

describe("the second look's evidence", () => {
  const evidence = (mixture: boolean, put = false): SpotEvidence => ({
    features: {
      significance: 5,
      height: 0.03,
      fill: 0.8,
      offset: 0.05,
      width: 0.4,
      stretch: 0,
      photos: 1,
      beside: 0,
      marked: false,
      pencil: { here: false, share: 0 },
      shade: 0,
      rf: 0.5,
    },
    salience: 3,
    likeness: 0.7,
    neighbours: { next: [0, 0], second: 0, far: 0.2, sameRf: null, plate: null },
    mixture,
    put,
    edgeLane: true,
    toEdge: 0.6,
    stand: { rise: 0.5, beside: [0, 0], borders: [0.2, 0.1], elsewhere: null },
    rank: -1,
    peak: { tail: 0, flat: 0, logSigma: 1.8 },
  });

  it("expects more of a lane that shows the crude mixture", () => {
    expect(spotConfidence(evidence(true))).toBeGreaterThan(spotConfidence(evidence(false)));
  });

  it("trusts a peak put at a level less than one that was found", () => {
    expect(spotConfidence(evidence(false, true))).toBeLessThan(spotConfidence(evidence(false)));
    expect(evidenceVector(evidence(false))).toHaveLength(55);
  });
});
