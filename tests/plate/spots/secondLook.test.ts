import { describe, expect, it } from "vitest";
import { normalDeviate, seededRandom } from "../../../src/math/random.ts";
import type { Spot } from "../../../src/model/index.ts";
import { likenessOf } from "../../../src/plate/spots/likeness.ts";
import { type Judged, neighboursOf } from "../../../src/plate/spots/neighbours.ts";
import { salience, salienceAt } from "../../../src/plate/spots/salience.ts";
import { ACROSS, offsetOfColumn, RF_STEPS, rowOfRf, type Strip } from "../../../src/plate/spots/strip.ts";
import { PRIOR, toPeak } from "./profiles.ts";

const SIGMA = Math.exp(PRIOR.logSigma);

/** A lane of white noise with Gaussian blobs: Rf, offset across in pitches, height, deviations in rows and pitches. */
function drawStrip(
  blobs: readonly { rf: number; offset?: number; height: number; along?: number; across?: number }[],
  seed: number,
  noise = 0.004,
): Strip {
  const random = seededRandom(seed);
  const data = new Float32Array(RF_STEPS * ACROSS);
  for (let r = 0; r < RF_STEPS; r++)
    for (let c = 0; c < ACROSS; c++) {
      let v = normalDeviate(random) * noise;
      for (const { rf, offset = 0, height, along = SIGMA, across = 0.17 } of blobs)
        v +=
          height *
          Math.exp(-0.5 * ((r - rowOfRf(rf)) / along) ** 2 - 0.5 * ((offsetOfColumn(c) - offset) / across) ** 2);
      data[r * ACROSS + c] = v;
    }
  return { data };
}

const LANES = [1, 2, 3, 4, 5, 6];

describe("salience", () => {
  it("is high where a spot stands and about 0 elsewhere", () => {
    const strips = LANES.map((seed) => drawStrip(seed === 3 ? [{ rf: 0.5, height: 0.02 }] : [], seed));
    const lanes = salience({ strips }, PRIOR.logSigma);
    expect(salienceAt(lanes[2], rowOfRf(0.5))).toBeGreaterThan(8);
    for (const lane of [0, 1, 3, 4, 5]) expect(Math.abs(lanes[lane][Math.round(rowOfRf(0.5))])).toBeLessThan(4);
  });

  it("of a wide blotch is far below that of a spot as high", () => {
    const blotch = { rf: 0.5, height: 0.02, along: 5 * SIGMA, across: 1 };
    const strips = LANES.map((seed) => drawStrip([seed === 3 ? { rf: 0.5, height: 0.02 } : blotch], seed));
    const lanes = salience({ strips }, PRIOR.logSigma);
    const [spot, wide] = [2, 3].map((lane) => salienceAt(lanes[lane], rowOfRf(0.5)));
    expect(spot).toBeGreaterThan(4 * wide);
  });

  it("means less the more unrest the ground shows", () => {
    const at = (unrest: number) => {
      const strips = LANES.map((seed) => {
        const random = seededRandom(100 + seed);
        const blobs = Array.from({ length: 20 }, (_, k) => ({ rf: 0.05 * k, height: unrest * normalDeviate(random) }));
        return drawStrip(seed === 3 ? [{ rf: 0.5, height: 0.02 }] : blobs, seed);
      });
      return salienceAt(salience({ strips }, PRIOR.logSigma)[2], rowOfRf(0.5));
    };
    expect(at(0)).toBeGreaterThan(2 * at(0.02));
  });
});

describe("likenessOf", () => {
  const peak = toPeak({ rf: 0.5, height: 0.05 });
  const width = 0.4;

  it("is near 1 for a spot, on a slope as well", () => {
    const strip = drawStrip([{ rf: 0.5, height: 0.05 }], 1, 0.001);
    const tilted = {
      data: strip.data.map((v, i) => v + 0.0004 * Math.floor(i / ACROSS) + 0.05 * offsetOfColumn(i % ACROSS)),
    };
    expect(likenessOf(strip, peak, width)).toBeGreaterThan(0.9);
    expect(likenessOf(tilted, peak, width)).toBeCloseTo(likenessOf(strip, peak, width), 6);
  });

  it("is low for noise and for a scratch along the lane", () => {
    expect(Math.abs(likenessOf(drawStrip([], 1), peak, width))).toBeLessThan(0.2);
    const scratch = drawStrip([{ rf: 0.5, height: 0.05, along: 200, across: 0.02 }], 1, 0.001);
    expect(likenessOf(scratch, peak, width)).toBeLessThan(0.4);
  });
});

describe("neighboursOf", () => {
  const candidate = (mode: number, confidence: number, colour: readonly [number, number, number]): Judged => ({
    mode,
    spot: { rf: 0.5, confidence, responses: [{ colour }] } as unknown as Spot,
  });
  const green = [0.05, 0.2, 0.06] as const;
  const own = candidate(150, 0.3, green);

  it("sees who stands at the same Rf, near and far", () => {
    const lanes = [
      [candidate(150, 0.8, green)],
      [candidate(152, 0.6, green)],
      [own],
      [candidate(151, 0.9, green), candidate(200, 0.99, green)],
      [],
      [candidate(149, 0.5, green)],
    ];
    const { next, second, far } = neighboursOf(lanes, 2, own);
    expect(next).toEqual([0.9, 0.6]);
    expect(second).toBe(0.8);
    expect(far).toBeCloseTo(0.5 / 3, 12);
  });

  it("compares colours with the clear spots of the plate, whatever their strength", () => {
    const clear = candidate(151, 0.95, [0.25, 1, 0.3]);
    const other = candidate(80, 0.95, [1, 0.1, 0]);
    const { sameRf, plate } = neighboursOf([[own], [clear], [other]], 0, own);
    expect(sameRf).toBeCloseTo(1, 6);
    expect(plate?.most).toBeCloseTo(1, 6);
    expect(neighboursOf([[own], [other]], 0, own).sameRf).toBeNull();
    expect(neighboursOf([[own], [candidate(151, 0.5, green)]], 0, own).plate).toBeNull();
  });
});
