import { createRequire } from "node:module";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { projectPoint, squareToQuad } from "../../src/math/homography4.ts";
import type { Quad } from "../../src/model/index.ts";

const SQUARE: Quad = [
  [0, 0],
  [1, 0],
  [1, 1],
  [0, 1],
];

/** A quadrilateral near a square of 1000, each corner moved by up to 300. */
const quads = fc.array(fc.integer({ min: -300, max: 300 }), { minLength: 8, maxLength: 8 }).map(
  (d): Quad => [
    [d[0], d[1]],
    [1000 + d[2], d[3]],
    [1000 + d[4], 1000 + d[5]],
    [d[6], 1000 + d[7]],
  ],
);

describe("squareToQuad", () => {
  it("takes the corners of the square to the corners given", () => {
    fc.assert(
      fc.property(quads, (quad) => {
        const map = squareToQuad(quad)!;
        SQUARE.forEach((corner, i) => {
          const [x, y] = projectPoint(map, corner);
          expect(x).toBeCloseTo(quad[i][0], 6);
          expect(y).toBeCloseTo(quad[i][1], 6);
        });
      }),
    );
  });

  it("is OpenCV's getPerspectiveTransform", () => {
    const listeners = ["uncaughtException", "unhandledRejection"].map(
      (e) => [e, process.listeners(e as never)] as const,
    );
    const { cv } = createRequire(import.meta.url)("opencv-wasm");
    for (const [event, before] of listeners) {
      for (const added of process.listeners(event as never)) {
        if (!before.includes(added)) process.removeListener(event, added as never);
      }
    }
    const quad: Quad = [
      [132, 204],
      [871, 158],
      [940, 1205],
      [61, 1289],
    ];
    const from = cv.matFromArray(4, 1, cv.CV_32FC2, SQUARE.flat());
    const to = cv.matFromArray(4, 1, cv.CV_32FC2, quad.flat());
    const theirs = cv.getPerspectiveTransform(from, to);
    const ours = squareToQuad(quad)!;
    ours.forEach((v, i) => {
      expect(v).toBeCloseTo(theirs.data64F[i], 4);
    });
    for (const mat of [from, to, theirs]) mat.delete();
  });

  it("refuses corners on one line and corners that are no numbers", () => {
    const refused: Quad[] = [
      [
        [0, 0],
        [1, 1],
        [2, 2],
        [0, 5],
      ],
      [
        [0, 0],
        [5, 0],
        [2, 2],
        [10, 0],
      ],
      [
        [0, 0],
        [1, 0],
        [2, 0],
        [3, 0],
      ],
      [
        [4, 4],
        [4, 4],
        [4, 4],
        [4, 4],
      ],
      [
        [Number.NaN, 0],
        [1, 0],
        [1, 1],
        [0, 1],
      ],
    ];
    for (const quad of refused) expect(squareToQuad(quad)).toBeNull();
  });
});
