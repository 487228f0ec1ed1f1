import { describe, expect, it } from "vitest";
import { massInWords, parseAmountMmol, parseLengthMm, parseMassG, parseVolumeMl } from "../../../src/planning/index.ts";

describe("quantities as they are typed", () => {
  it.each([
    ["45.1234 g", 45.1234],
    ["250mg", 0.25],
    ["0,25 g", 0.25],
    ["2e2 mg", 0.2],
    ["0.00025kg", 0.25],
    ["500 µg", 0.0005],
    ["500 μg", 0.0005],
  ])("%s", (text, grams) => {
    expect(parseMassG(text, "the load")).toBeCloseTo(grams, 12);
  });

  it("a bare number is asked back, never guessed", () => {
    expect(() => parseMassG("250", "the load")).toThrow(/in which unit\? Write 250g or 250mg/);
    expect(() => parseMassG("250 mL", "the load")).toThrow(/does not fit/);
    expect(() => parseMassG("about 250 mg", "the load")).toThrow(/no quantity/);
  });

  it("volumes, lengths, amounts", () => {
    expect(parseVolumeMl("0.5 L", "the flask")).toBe(500);
    expect(parseLengthMm("15 cm", "the bed")).toBe(150);
    expect(parseAmountMmol("0.002 mol", "the aldehyde")).toBe(2);
    expect(() => parseVolumeMl("3 g", "the flask")).toThrow(/mL, L/);
  });

  it("masses in words", () => {
    expect(massInWords(12.34)).toBe("12.3 mg");
    expect(massInWords(250.4)).toBe("250 mg");
    expect(massInWords(1234.5)).toBe("1.234 g");
  });
});
