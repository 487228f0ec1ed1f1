import { describe, expect, it } from "vitest";
import { normalDeviate, seededRandom } from "../../src/math/random.ts";
import { type FourPoints, homographyFrom, rectangle } from "../../src/raster/homography.ts";
import { LINEAR_OF_CODE } from "../../src/raster/linear.ts";
import type { Picture } from "../../src/raster/picture.ts";
import { warpLinear, warpPicture } from "../../src/raster/warp.ts";
import { openCv } from "../support/openCv.ts";

function paint(width: number, height: number, code: (x: number, y: number, c: number) => number): Picture {
  const data = new Uint8Array(width * height * 3);
  for (let y = 0, o = 0; y < height; y++) {
    for (let x = 0; x < width; x++) for (let c = 0; c < 3; c++) data[o++] = code(x, y, c);
  }
  return { width, height, data };
}

const whole = (p: Picture): FourPoints => rectangle(p.width, p.height);

describe("a patch in linear light", () => {
  it("of the whole picture at its own size is the picture, decoded", () => {
    const picture = paint(7, 5, (x, y, c) => 20 + 9 * x + 17 * y + 3 * c);
    const { r, g, b } = warpLinear(picture, whole(picture), 7, 5);
    for (let i = 0; i < 35; i++) {
      const light = [r, g, b].map((plane) => plane.data[i]);
      for (let c = 0; c < 3; c++) expect(light[c]).toBeCloseTo(LINEAR_OF_CODE[picture.data[3 * i + c]], 6);
    }
    expect(warpPicture(picture, whole(picture), 7, 5)).toEqual(picture);
  });

  it("begins at the first corner given: a turned quad turns the patch", () => {
    const picture = paint(4, 3, (x, y) => 10 * x + 50 * y);
    const [a, b, c, d] = whole(picture);
    const turned = warpPicture(picture, [d, a, b, c], 3, 4);
    for (let y = 0; y < 4; y++) {
      for (let x = 0; x < 3; x++) expect(turned.data[3 * (3 * y + x)]).toBe(picture.data[3 * (4 * (2 - x) + y)]);
    }
  });

  it("averages light, not codes, where the picture is finer", () => {
    const picture = paint(40, 40, (x, y) => ((x + y) % 2 === 0 ? 240 : 20));
    const { g } = warpLinear(picture, whole(picture), 10, 10);
    const mean = (LINEAR_OF_CODE[240] + LINEAR_OF_CODE[20]) / 2;
    for (const v of g.data) expect(v).toBeCloseTo(mean, 6);
  });

  it("tells which channels touched their limits", () => {
    const picture = paint(6, 6, (x, y, c) => (x === 3 && y === 3 ? [255, 128, 0][c] : 128));
    const { clipped } = warpLinear(picture, whole(picture), 6, 6);
    expect(clipped[3 * 6 + 3]).toBe(1 | 32);
    expect(clipped[0]).toBe(0);
  });

  it("is OpenCV's warpPerspective, bilinear", () => {
    const random = seededRandom(5);
    const noisy = paint(120, 90, (x, y) =>
      Math.max(0, Math.min(255, Math.round(90 + x + 20 * Math.sin(y / 9) + 8 * normalDeviate(random)))),
    );
    const corners: FourPoints = [
      [20.3, 14.2],
      [101.7, 9.5],
      [108.1, 80.4],
      [11.9, 74.6],
    ];
    const size = [90, 70] as const;
    const own = warpLinear(noisy, corners, ...size).r.data;
    const h = homographyFrom(rectangle(...size), corners)!;
    // OpenCV puts whole numbers at the middle of a pixel, ours at its corner: shift by half a pixel on both sides.
    const theirs = openCv((cv) => {
      const light = Float32Array.from({ length: 120 * 90 }, (_, i) => LINEAR_OF_CODE[noisy.data[3 * i]]);
      const source = cv.matFromArray(90, 120, cv.CV_32FC1, Array.from(light));
      const m = shifted(h);
      const map = cv.matFromArray(3, 3, cv.CV_64FC1, m);
      const out = new cv.Mat();
      cv.warpPerspective(
        source,
        out,
        map,
        new cv.Size(...size),
        cv.INTER_LINEAR | cv.WARP_INVERSE_MAP,
        cv.BORDER_REPLICATE,
        new cv.Scalar(),
      );
      const values = Float32Array.from(out.data32F as Float32Array);
      for (const mat of [source, map, out]) mat.delete();
      return values;
    });
    // OpenCV rounds places to 1/32 of a pixel.
    for (let i = 0; i < own.length; i++) expect(Math.abs(own[i] - theirs[i])).toBeLessThan(0.012);
  });

  it("needs four corners that span a quadrilateral", () => {
    const picture = paint(8, 8, () => 0);
    expect(() =>
      warpLinear(
        picture,
        [
          [0, 0],
          [4, 4],
          [8, 8],
          [0, 8],
        ],
        4,
        4,
      ),
    ).toThrow(RangeError);
  });
});

/** T(-1/2) h T(1/2), row by row. */
function shifted(h: readonly number[]): number[] {
  const right = [
    h[0],
    h[1],
    h[2] + 0.5 * (h[0] + h[1]),
    h[3],
    h[4],
    h[5] + 0.5 * (h[3] + h[4]),
    h[6],
    h[7],
    h[8] + 0.5 * (h[6] + h[7]),
  ];
  return right.map((v, i) => (i < 6 ? v - 0.5 * right[6 + (i % 3)] : v));
}
