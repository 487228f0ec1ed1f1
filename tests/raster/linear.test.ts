import { describe, expect, it } from "vitest";
import { LINEAR_OF_CODE, linearToSrgb, srgbToLinear } from "../../src/raster/linear.ts";

describe("sRGB and linear light (IEC 61966-2-1)", () => {
  it("is a line up to 0.04045 and a power of 2.4 above, by the constants of the standard", () => {
    expect(srgbToLinear(0)).toBe(0);
    expect(srgbToLinear(0.02)).toBeCloseTo(0.02 / 12.92, 12);
    expect(srgbToLinear(0.04045)).toBeCloseTo(0.04045 / 12.92, 12);
    expect(srgbToLinear(0.5)).toBeCloseTo(((0.5 + 0.055) / 1.055) ** 2.4, 12);
    expect(srgbToLinear(1)).toBeCloseTo(1, 12);
  });

  it("gives the usual check values (from memory): half code 0.2140, mid grey 0.18 at code 118, half light at 188", () => {
    expect(srgbToLinear(0.5)).toBeCloseTo(0.21404, 5);
    expect(Math.round(255 * linearToSrgb(0.18))).toBe(118);
    expect(Math.round(255 * linearToSrgb(0.5))).toBe(188);
  });

  it("hardly jumps where line and power meet", () => {
    expect(Math.abs(srgbToLinear(0.0404500001) - srgbToLinear(0.04045))).toBeLessThan(1e-7);
    expect(Math.abs(linearToSrgb(0.0031308001) - linearToSrgb(0.0031308))).toBeLessThan(1e-6);
  });

  it("comes back to every 8-bit code", () => {
    expect(LINEAR_OF_CODE).toHaveLength(256);
    LINEAR_OF_CODE.forEach((v, code) => {
      expect(Math.round(255 * linearToSrgb(v))).toBe(code);
    });
  });

  it("keeps what lies outside 0..1 at its ends", () => {
    expect([linearToSrgb(-0.1), linearToSrgb(1.7)]).toEqual([0, 1]);
  });
});
