import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Point, Quad } from "../../../src/model/index.ts";
import { mayBeOnePlate, mayStandAlike, shapeRange } from "../../../src/plate/rectify/index.ts";

const [WIDTH, HEIGHT] = [1600, 1200];

/** Corners of a rectangle `aspect` high and 1 wide before a pinhole camera, tipped by `pitch` and `yaw` (radians). */
function seen(aspect: number, focal: number, pitch: number, yaw: number): Quad {
  const corner = (x: number, y: number): Point => {
    const [c, d] = [y * Math.cos(pitch), y * Math.sin(pitch)];
    const [e, f] = [x * Math.cos(yaw) + d * Math.sin(yaw), d * Math.cos(yaw) - x * Math.sin(yaw)];
    const k = (focal * WIDTH) / (3 + f);
    return [WIDTH / 2 + k * e, HEIGHT / 2 + k * c];
  };
  const h = aspect / 2;
  return [corner(-0.5, -h), corner(0.5, -h), corner(0.5, h), corner(-0.5, h)];
}

const range = (quad: Quad) => shapeRange(quad, WIDTH, HEIGHT);

describe("the shapes that an outline may have", () => {
  const tip = fc.double({ min: -0.5, max: 0.5, noNaN: true });

  it("hold the plate's own, for any phone camera and pose", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.4, max: 2.5, noNaN: true }),
        fc.double({ min: 0.65, max: 1.6, noNaN: true }),
        ...[tip, tip],
        (aspect, focal, pitch, yaw) => {
          const { low, high } = range(seen(aspect, focal, pitch, yaw));
          expect(low).toBeLessThan(Math.log(aspect) + 1e-6);
          expect(high).toBeGreaterThan(Math.log(aspect) - 1e-6);
        },
      ),
      { seed: 3, numRuns: 300 },
    );
  });

  it("agree for two views of one plate, taken with different lenses", () => {
    expect(mayStandAlike(range(seen(0.6, 0.75, 0.4, -0.2)), range(seen(0.6, 1.4, -0.3, 0.3)))).toBe(true);
  });

  it("differ for plates a fifth apart, seen from nearly above", () => {
    expect(mayStandAlike(range(seen(0.6, 0.75, 0.1, 0)), range(seen(0.72, 0.75, 0, 0.1)))).toBe(false);
  });

  it("agree with a plate that lies on its side only where that is allowed for", () => {
    const upright = seen(0.6, 0.75, 0.1, 0);
    const turned = upright.map((_, i, all) => all[(i + 1) & 3]) as unknown as Quad;
    expect(mayBeOnePlate(range(turned), range(upright))).toBe(true);
    expect(mayStandAlike(range(turned), range(upright))).toBe(false);
  });
});
