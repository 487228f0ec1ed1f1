import { describe, expect, it } from "vitest";
import { normalDeviate, seededRandom } from "../../src/math/random.ts";
import { findEdgels } from "../../src/raster/edgels.ts";
import type { Sketch } from "../../src/raster/shrink.ts";
import { sketchNoise } from "../../src/raster/sketchNoise.ts";

function sketchOf(width: number, height: number, code: (x: number, y: number) => number): Sketch {
  const r = Float32Array.from({ length: width * height }, (_, i) => code(i % width, Math.floor(i / width)));
  return { width, height, r, g: r.slice(), b: r.slice(), scale: 1 };
}

describe("noise of a sketch", () => {
  it.each([0.5, 2, 8])("of %d codes is measured, whatever the slope below it", (sd) => {
    const random = seededRandom(11);
    const noise = sketchNoise(sketchOf(200, 160, (x, y) => 60 + 0.3 * x + 0.2 * y + sd * normalDeviate(random)));
    expect(Math.abs(noise / sd - 1)).toBeLessThan(0.15);
  });

  it("is never nothing", () => {
    expect(sketchNoise(sketchOf(64, 64, () => 100))).toBe(0.05);
  });
});

describe("edge points", () => {
  // A dark half plane and a bright one, smooth over a pixel, split by the line x cos a + y sin a = c.
  it.each([0, 17, 45, 80, 130])(
    "lie on a slanted edge to a fraction of a pixel and point to its bright side (%d degrees)",
    (degrees) => {
      const a = (degrees * Math.PI) / 180;
      const [nx, ny] = [Math.cos(a), Math.sin(a)];
      const c = nx * 60 + ny * 50 + 0.37;
      const at = (x: number, y: number) => nx * (x + 0.5) + ny * (y + 0.5) - c;
      const { count, ...e } = findEdgels(
        sketchOf(120, 100, (x, y) => 80 + 60 / (1 + Math.exp(-2.5 * at(x, y)))),
        0.3,
      );
      expect(count).toBeGreaterThan(60);
      for (let i = 0; i < count; i++) {
        if (e.x[i] < 6 || e.y[i] < 6 || e.x[i] > 114 || e.y[i] > 94) continue;
        expect(Math.abs(nx * e.x[i] + ny * e.y[i] - c)).toBeLessThan(0.25);
        expect(nx * e.nx[i] + ny * e.ny[i]).toBeGreaterThan(0.99);
        expect(e.weight[i]).toBeGreaterThan(0.3);
      }
    },
  );

  it("do not appear on an even ground", () => {
    expect(
      findEdgels(
        sketchOf(50, 50, (x) => 90 + 0.01 * x),
        0.5,
      ).count,
    ).toBe(0);
  });
});
