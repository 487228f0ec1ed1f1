import { describe, expect, it } from "vitest";
import type { Grouping } from "../../src/elution/grouping.ts";
import { misreadChance, noSurerThanSpotted } from "../../src/elution/pools/confidence.ts";
import { tubeSignsOf } from "../../src/elution/pools/misread.ts";
import { visibility } from "../../src/elution/profiles/amounts.ts";
import { drawnPlates } from "./support/drawing.ts";

const GOOD = { scatter: 0.2, doubt: 0.02, unexplained: 0, blur: 1, faintness: 1, linesWrong: 0 };

describe("a tube nobody spotted", () => {
  it("is judged by the plates of the nearest spotted tubes, not by those far away", () => {
    const lane = (tube: number, plate: number) => ({ tube, plate });
    const lanes = [lane(1, 0), lane(3, 0), lane(5, 1), lane(9, 2)];
    const signs = [0, 0.4, 0.8].map((linesWrong) => ({ ...GOOD, linesWrong }));
    const of = tubeSignsOf(signs, { lanes } as unknown as Grouping, 10).map((s) => s.linesWrong);
    expect(of[0]).toBe(0);
    expect(of[1]).toBe(0);
    expect(of[3]).toBeCloseTo(0.2);
    expect(of[6]).toBeCloseTo(0.6);
    expect(of[9]).toBeCloseTo(0.8);
  });

  it("is never surer than the surer spotted one beside it in its pool", () => {
    expect(noSurerThanSpotted([0.9, 0.99, 0.7, 0.99], [true, false, true, false])).toEqual([0.9, 0.9, 0.7, 0.7]);
    expect(noSurerThanSpotted([0.9, 0.8], [false, false])).toEqual([0.9, 0.8]);
  });
});

describe("a plate whose lines are doubted", () => {
  it("counts as misread for most of that doubt, whatever its look", () => {
    const look = misreadChance(GOOD);
    expect(misreadChance({ ...GOOD, linesWrong: 1 })).toBeCloseTo(1 - 0.3 * (1 - look), 10);
    expect(misreadChance({ ...GOOD, linesWrong: 0.2 })).toBeCloseTo(1 - 0.86 * (1 - look), 10);
  });
});

describe("what a spot's look says of being visible", () => {
  // A change of 3 % in the value written is one of 6.5 % in light, density 0.029; one of 2 % density 0.0193.
  const spot = drawnPlates("rf 1\n0.50 8")[0].lanes[0].spots[0];
  const shown = (density: number) =>
    visibility({
      ...spot,
      confidence: 0.95,
      responses: [
        {
          ...spot.responses[0],
          light: "uv254",
          contrastToNoise: 30,
          peak: 0.9 * density,
          colour: [0.5 * density, density, 0.5 * density],
        },
      ],
    });

  it("is even below 3 % of the value written, sure well above, next to nothing well below", () => {
    expect(shown(0.029)).toBeGreaterThan(0.65);
    expect(shown(0.0193)).toBeLessThan(0.5);
    expect(shown(0.1)).toBeGreaterThan(0.98);
    expect(shown(0.003)).toBeLessThan(0.02);
  });

  it("goes at 365 nm by the light of the layer beside it, where that is known", () => {
    const glowing = (bare?: readonly [number, number, number]) =>
      visibility({
        ...spot,
        confidence: 0.95,
        responses: [
          {
            ...spot.responses[0],
            light: "uv365",
            contrastToNoise: 12,
            peak: 0.002,
            colour: [0.0005, 0.001, 0.002],
            ...(bare && { bare }),
          },
        ],
      });
    expect(glowing([0.001, 0.001, 0.004])).toBe(glowing());
    expect(glowing()).toBeGreaterThan(0.8);
    // of a layer behind a violet haze the same glow changes what is written by less than half a per cent
    expect(glowing([0.1, 0.1, 0.3])).toBeLessThan(0.1);
  });
});
