import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  applyHomography,
  type FourPoints,
  homographyFrom,
  invertHomography,
  rectangle,
} from "../../src/raster/homography.ts";
import { openCv } from "../support/openCv.ts";

/** A rectangle with each corner moved by less than a quarter of its sides: always convex. */
const quads = fc
  .tuple(
    fc.integer({ min: 40, max: 3000 }),
    fc.integer({ min: 40, max: 3000 }),
    fc.array(fc.double({ min: -0.24, max: 0.24, noNaN: true }), { minLength: 8, maxLength: 8 }),
  )
  .map(
    ([w, h, d]) =>
      rectangle(w, h).map(([x, y], i) => [x + w * d[2 * i], y + h * d[2 * i + 1]]) as unknown as FourPoints,
  );

describe("homography of four points", () => {
  it("takes each point to its partner, and back", () => {
    fc.assert(
      fc.property(quads, quads, (from, to) => {
        const h = homographyFrom(from, to)!;
        const back = invertHomography(h)!;
        from.forEach((p, i) => {
          const [x, y] = applyHomography(h, p);
          expect(Math.hypot(x - to[i][0], y - to[i][1])).toBeLessThan(1e-4);
          const [u, v] = applyHomography(back, to[i]);
          expect(Math.hypot(u - p[0], v - p[1])).toBeLessThan(1e-3);
        });
      }),
    );
  });

  it("is OpenCV's getPerspectiveTransform", () => {
    const to: FourPoints = [
      [859.48, 899.03],
      [2217.27, 905.11],
      [2207.45, 3161.98],
      [650.38, 3056.43],
    ];
    const from = rectangle(500, 660);
    const own = homographyFrom(from, to)!;
    const theirs = openCv((cv) => {
      const p = cv.matFromArray(4, 1, cv.CV_32FC2, from.flat());
      const q = cv.matFromArray(4, 1, cv.CV_32FC2, to.flat());
      const m = cv.getPerspectiveTransform(p, q);
      const values = Array.from(m.data64F as Float64Array);
      for (const mat of [p, q, m]) mat.delete();
      return values;
    });
    for (const [i, v] of own.entries()) {
      const tolerance = 1e-6 * Math.max(1, Math.abs(v)) + (i % 3 === 2 ? 1e-4 : 1e-6);
      expect(Math.abs(v - theirs[i])).toBeLessThan(tolerance);
    }
  });

  it("does not exist where three points lie on one line", () => {
    expect(
      homographyFrom(rectangle(1, 1), [
        [0, 0],
        [1, 1],
        [2, 2],
        [0, 5],
      ]),
    ).toBeNull();
  });
});
