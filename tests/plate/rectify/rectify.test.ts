import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Point, Quad } from "../../../src/model/index.ts";
import { plateAspect, rectifyLinear, straighten } from "../../../src/plate/rectify/index.ts";
import { canvas, expose, paintQuad, tilted } from "../locate/scene.ts";

/**
 * Corners of a rectangle `aspect` high and 1 wide, seen by a pinhole camera of the given focal length (over the picture's
 * long side, 1600 x 1200): turned about the view by `roll`, tipped by `pitch` and `yaw` (radians), `away` widths off.
 */
function seen(aspect: number, focal: number, roll: number, pitch: number, yaw: number, away: number): Quad {
  const corner = (x: number, y: number): Point => {
    const [a, b] = [x * Math.cos(roll) - y * Math.sin(roll), x * Math.sin(roll) + y * Math.cos(roll)];
    const [c, d] = [b * Math.cos(pitch), b * Math.sin(pitch)];
    const [e, f] = [a * Math.cos(yaw) + d * Math.sin(yaw), d * Math.cos(yaw) - a * Math.sin(yaw)];
    const k = (focal * 1600) / (away + f);
    return [800 + k * e, 600 + k * c];
  };
  const h = aspect / 2;
  return [corner(-0.5, -h), corner(0.5, -h), corner(0.5, h), corner(-0.5, h)];
}

describe("a plate's shape", () => {
  it("comes out of its perspective, for any camera and pose", () => {
    const pose = fc.double({ min: 0.15, max: 0.45, noNaN: true });
    const sign = fc.constantFrom(-1, 1);
    fc.assert(
      fc.property(
        fc.double({ min: 0.5, max: 2.2, noNaN: true }),
        fc.double({ min: 0.6, max: 1.2, noNaN: true }),
        fc.double({ min: -0.3, max: 0.3, noNaN: true }),
        fc.tuple(pose, sign, pose, sign),
        (aspect, focal, roll, [pitch, s, yaw, t]) => {
          const quad = seen(aspect, focal, roll, s * pitch, t * yaw, 3);
          expect(Math.abs(plateAspect(quad, 1600, 1200) / aspect - 1)).toBeLessThan(0.08);
        },
      ),
      { seed: 1, numRuns: 500 },
    );
  });

  it("is exact where the camera is the usual one and one pair of sides stays parallel", () => {
    const quad = seen(1.4, 0.75, 0, 0.4, 0, 3);
    expect(plateAspect(quad, 1600, 1200)).toBeCloseTo(1.4, 3);
  });

  it("is that of its sides where it is seen from straight above", () => {
    expect(plateAspect(tilted(800, 600, 500, 700, 20), 1600, 1200)).toBeCloseTo(1.4, 6);
  });
});

describe("a straightened plate", () => {
  const on = canvas(400, 300, () => [10, 10, 10]);
  const quad = tilted(200, 150, 240, 200, 15, 0.1);
  paintQuad(on, quad, (u, v) => [50 + 150 * u, 50 + 150 * v, 120]);
  const picture = expose(on, 0, 1);

  it("runs evenly from corner to corner", () => {
    const flat = straighten(picture, quad, 100, 80);
    for (const [x, y] of [
      [10, 10],
      [50, 40],
      [90, 70],
    ]) {
      const p = 3 * (100 * y + x);
      expect(Math.abs(flat.data[p] - (50 + 1.5 * (x + 0.5)))).toBeLessThan(3);
      expect(Math.abs(flat.data[p + 1] - (50 + 1.875 * (y + 0.5)))).toBeLessThan(3);
    }
  });

  it("comes in linear light for measuring", () => {
    const { b, clipped } = rectifyLinear(picture, quad, 50, 40);
    // IEC 61966-2-1: code 120 is 0.1878.
    expect(b.data[20 * 50 + 25]).toBeCloseTo(0.1878, 3);
    expect(clipped[20 * 50 + 25]).toBe(0);
  });
});
