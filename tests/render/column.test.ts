import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { chanceOf } from "../../src/render/chance.ts";
import { drawSubstances, tubeContents } from "../../src/render/column/column.ts";
import type { Substance } from "../../src/render/recipe.ts";

/** SciPy's values; `reference/elution.py` made them. */
const peaks = JSON.parse(readFileSync(new URL("./reference/elution.json", import.meta.url), "utf8")) as {
  mu: number;
  sigma: number;
  tau: number;
  tubes: number[];
}[];

const draw = (seed: number, count = 4) =>
  drawSubstances(chanceOf(seed), count, 0.07, 24, { light: "uv254", stain: null });

describe("tube contents against scipy.stats.exponnorm", () => {
  it.each(peaks)("a peak at $mu, sd $sigma, tail $tau", ({ tubes, ...peak }) => {
    const substance = { ...draw(1)[0], peak, load: 1 } satisfies Substance;
    const fullest = Math.max(...tubes);
    const contents = tubeContents([substance], tubes.length);
    contents.forEach(([amount], t) => {
      expect(amount).toBeCloseTo(tubes[t] / fullest, 6);
    });
  });
});

describe("the column", () => {
  it.each([1, 2, 3, 4, 5])("elutes in the order of falling Rf, at least the gap apart (seed %i)", (seed) => {
    const substances = draw(seed);
    for (let i = 1; i < substances.length; i++) {
      const [fast, slow] = [substances[i - 1], substances[i]];
      expect(fast.rf - slow.rf).toBeGreaterThanOrEqual(0.07 - 1e-9);
      if (fast.peak && slow.peak) expect(slow.peak.mu).toBeGreaterThan(fast.peak.mu);
    }
  });

  it("has one main product, of load 1, that leaves the column", () => {
    for (let seed = 0; seed < 20; seed++) {
      const main = draw(seed).filter((s) => s.load === 1);
      expect(main).toHaveLength(1);
      expect(main[0].peak).not.toBeNull();
    }
  });
});
