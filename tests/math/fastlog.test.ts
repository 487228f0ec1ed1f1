import { describe, expect, it } from "vitest";
import { log10All } from "../../src/math/fastlog.ts";

describe("log10All", () => {
  it("is within its stated 1.1e-4 from the darkest pixel to far above white", () => {
    const values = Float32Array.from({ length: 40000 }, (_, i) => 10 ** (-4 + (6 * i) / 40000));
    const out = new Float32Array(values.length);
    log10All(values, 0, out);
    let worst = 0;
    values.forEach((v, i) => {
      worst = Math.max(worst, Math.abs(out[i] - Math.log10(v)));
    });
    expect(worst).toBeLessThan(1.1e-4);
    expect(worst).toBeGreaterThan(1e-6);
  });

  it("adds its offset before the logarithm, and leaves its input alone", () => {
    const values = Float32Array.from([0, 0.007, 0.997]);
    const out = new Float32Array(3);
    log10All(values, 0.003, out);
    [Math.log10(0.003), -2, 0].forEach((expected, i) => {
      expect(Math.abs(out[i] - expected)).toBeLessThan(1.2e-4);
    });
    expect([...values]).toEqual([0, Math.fround(0.007), Math.fround(0.997)]);
  });

  it("rises wherever its input rises by more than the table resolves", () => {
    const values = Float32Array.from({ length: 5000 }, (_, i) => 0.01 * 1.001 ** i);
    const out = new Float32Array(values.length);
    log10All(values, 0, out);
    for (let i = 1; i < out.length; i++) expect(out[i]).toBeGreaterThan(out[i - 1]);
  });
});
