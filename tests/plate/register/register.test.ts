import { describe, expect, it } from "vitest";
import { halfTurned, likeness, lookAtOutline, lookSize } from "../../../src/plate/register/index.ts";
import { tilted } from "../locate/scene.ts";
import { photoOf } from "./spottedPlate.ts";

describe("photos of one plate", () => {
  const [one, other] = [tilted(320, 320, 300, 400, 4, 0.05), tilted(300, 330, 340, 440, -7, 0.02)];
  const [green, black] = [photoOf(one, false, 3), photoOf(other, true, 4)];
  const size = lookSize(one);
  const seen = lookAtOutline(green, one, size);

  it("look alike under another light, as they lie and no other way", () => {
    const same = lookAtOutline(black, other, size);
    const alike = likeness(seen, same);
    expect(alike).toBeGreaterThan(0.6);
    expect(likeness(seen, halfTurned(same))).toBeLessThan(alike - 0.25);
    const [a, b, c, d] = other;
    const aside = lookAtOutline(black, [d, a, b, c], size);
    expect(likeness(seen, aside)).toBeLessThan(alike - 0.25);
    expect(likeness(seen, halfTurned(aside))).toBeLessThan(alike - 0.25);
  });

  it("look less alike where one outline is that of the paper beneath", () => {
    const paper = tilted(300, 330, 440, 560, -7, 0.02);
    const alike = likeness(seen, lookAtOutline(black, other, size));
    expect(likeness(seen, lookAtOutline(black, paper, size))).toBeLessThan(alike - 0.2);
  });

  it("look like nothing where nothing stands out", () => {
    const blank = { width: 40, height: 50, data: new Float32Array(2000) };
    expect(likeness(blank, blank)).toBe(0);
  });
});
