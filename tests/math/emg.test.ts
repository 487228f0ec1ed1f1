import { describe, expect, it } from "vitest";
import { emgDensity } from "../../src/math/emg.ts";
import { normalCdf } from "../../src/math/normal.ts";
import reference from "../elution/reference/reference.json" with { type: "json" };

// Source of the values: scipy.stats.exponnorm and norm, by tests/elution/reference/make_reference.py.
describe("exponentially modified Gaussian", () => {
  it.each(reference.emg)(
    "density at $x for mu $mu, sigma $sigma, tau $tau as SciPy has it",
    ({ x, mu, sigma, tau, pdf }) => {
      expect(Math.abs(emgDensity(x, mu, sigma, tau) - pdf)).toBeLessThanOrEqual(1e-9 * Math.max(pdf, 1e-6));
    },
  );

  it("has area 1", () => {
    let sum = 0;
    for (let x = -20; x < 400; x += 0.02) sum += 0.02 * emgDensity(x, 10, 1.5, 9);
    expect(sum).toBeCloseTo(1, 6);
  });

  it("stays finite where the plain formula overflows", () => {
    for (const tau of [1e-4, 1e-2, 1, 1e4])
      for (const x of [-500, 0, 500]) expect(emgDensity(x, 0, 1, tau)).toBeGreaterThanOrEqual(0);
  });
});

describe("normal distribution", () => {
  it.each(reference.normal)("cumulates to SciPy's value at $z", ({ z, cdf }) => {
    expect(Math.abs(normalCdf(z) - cdf)).toBeLessThanOrEqual(1e-12 * Math.max(1, cdf) + 1e-9 * cdf);
  });
});
