import { describe, expect, it } from "vitest";
import { normalDeviate, seededRandom } from "../../../src/math/random.ts";
import { type Content, readContent } from "../../../src/plate/locate/content.ts";
import { plateLike } from "../../../src/plate/locate/plateLike.ts";
import { canvas, expose, type Paint } from "./scene.ts";

const BARE: Content = {
  ...{ strokes: 0.005, strokeRows: 0.1, markRow: 0.4, blobs: 0.01, bands: 0, boldestBlob: 3 },
  ...{ grain: 0.02, ink: 0, colour: [200, 195, 185] },
};

describe("under the lamp", () => {
  it.each([
    ["dark purple", [73, 34, 70]],
    ["deep blue", [34, 42, 176]],
  ] as const)("a %s layer may be a quarter glowing spots", (_, colour) => {
    expect(plateLike({ ...BARE, colour, blobs: 0.24 }, "alone")).toBe(true);
  });

  it("a row of glowing spots may fill a band from side to side", () => {
    expect(plateLike({ ...BARE, colour: [47, 30, 81], blobs: 0.36, bands: 0.32 }, "alone")).toBe(true);
  });

  it("a layer in stray light, of no plain hue, may bear many bold marks where the light is told", () => {
    const grey = { ...BARE, colour: [47, 53, 89] as const, strokeRows: 0.7, ink: 0.023 };
    expect(plateLike(grey, "alone")).toBe(false);
    expect(plateLike(grey, "alone", "uv365")).toBe(true);
  });

  it("a pale layer may bear many marks where it is said to be lit by 254 nm", () => {
    const pale = { ...BARE, colour: [178, 201, 185] as const, strokeRows: 0.61, markRow: 0.9, strokes: 0.17 };
    expect(plateLike(pale, "alone")).toBe(false);
    expect(plateLike(pale, "alone", "uv254")).toBe(true);
  });

  it("a layer that glows green may bear bold pencil, unlike a pale sheet", () => {
    const bold = { ...BARE, strokes: 0.13, strokeRows: 0.15, markRow: 0.98, ink: 0.025 };
    expect(plateLike({ ...bold, colour: [87, 209, 107] }, "alone")).toBe(true);
    expect(plateLike(bold, "alone")).toBe(false);
  });

  it("paper is none", () => {
    expect(plateLike({ ...BARE, colour: [140, 150, 220] }, "alone")).toBe(false);
  });
});

describe("on the bench", () => {
  it("what is a quarter blobs is no plate", () => {
    expect(plateLike({ ...BARE, blobs: 0.24 }, "alone")).toBe(false);
  });

  it("a stained layer may bear the figures of many lanes, a pale sheet is a page of text", () => {
    const figures = { ...BARE, strokes: 0.09, strokeRows: 0.56, markRow: 0.98 };
    expect(plateLike({ ...figures, colour: [196, 85, 179] }, "alone")).toBe(true);
    expect(plateLike(figures, "alone")).toBe(false);
  });

  it("a weaker row of marks is enough where there are more marks", () => {
    expect(plateLike({ ...BARE, strokes: 0.018, markRow: 0.25 }, "alone")).toBe(true);
    expect(plateLike({ ...BARE, markRow: 0.25 }, "alone")).toBe(false);
  });
});

it("a clipped green layer is not rough because its dark red is noisy", () => {
  const random = seededRandom(3);
  const green: Paint = () => [Math.max(0, 26 + 12 * normalDeviate(random)), 254, 150];
  const picture = expose(canvas(300, 220, green), 1, 5);
  const quad = [
    [0, 0],
    [300, 0],
    [300, 220],
    [0, 220],
  ] as const;
  const content = readContent(picture, quad);
  expect(content && plateLike(content, "alone")).toBe(true);
});
