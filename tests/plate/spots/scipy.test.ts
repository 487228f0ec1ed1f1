import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { detectPeaks } from "../../../src/plate/spots/detect.ts";
import { sigmaBack, sigmaFront } from "../../../src/plate/spots/peaks.ts";
import { NOISE, noiseRows, PRIOR } from "./profiles.ts";

/** Values of scipy.signal.find_peaks and peak_widths; `reference/peaks.py` made them. */
const cases = JSON.parse(readFileSync(new URL("./reference/peaks.json", import.meta.url), "utf8")) as {
  name: string;
  rows: number[];
  widths: number[] | null;
  profile: number[];
}[];

/** Half-height width of a Gaussian flank over its deviation: sqrt(2 ln 2). */
const HALF_WIDTH = Math.sqrt(2 * Math.LN2);

describe("peaks against SciPy's find_peaks and peak_widths", () => {
  it.each(cases)("$name", ({ rows, widths, profile }) => {
    const peaks = detectPeaks(Float64Array.from(profile), noiseRows(), PRIOR).filter((p) => p.height > 5 * NOISE);
    expect(peaks).toHaveLength(rows.length);
    peaks.forEach((peak, i) => {
      // find_peaks gives whole rows; a row is 0.0033 in Rf.
      expect(Math.abs(peak.mode - rows[i])).toBeLessThan(1.5);
      if (!widths) return;
      const width = HALF_WIDTH * (sigmaFront(peak) + sigmaBack(peak));
      expect(Math.abs(width / widths[i] - 1), `width ${width}, SciPy ${widths[i]}`).toBeLessThan(0.1);
    });
  });
});
