import fc from "fast-check";
import { expect, it } from "vitest";
import { selectAt } from "../../src/math/select.ts";

it("selects what sorting would put there", () => {
  const values = fc.float32Array({ minLength: 1, maxLength: 60, noNaN: true });
  fc.assert(
    fc.property(values, fc.nat(), (some, seed) => {
      const k = seed % some.length;
      const sorted = Float32Array.from(some).sort();
      expect(selectAt(Float32Array.from(some), k) === sorted[k]).toBe(true);
    }),
  );
});

it("copes with equal values", () => {
  expect(selectAt(new Float32Array(1001).fill(3), 500)).toBe(3);
});
