import { DOMParser } from "@xmldom/xmldom";
import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { composeSvg, shrinkToJpeg } from "../../src/codec/index.ts";
import { PlatepoolError, type Result } from "../../src/model/index.ts";
import { strokeText, strokeTextWidth } from "../../src/report/annotation/strokeFont.ts";
import { annotationSvg } from "../../src/report/index.ts";
import { sampleResult } from "./support/sampleResult.ts";

const wellFormed = (svg: string) =>
  new DOMParser({
    onError: (level, message) => {
      throw new Error(`${level}: ${message}`);
    },
  }).parseFromString(svg, "image/svg+xml");

const paths = (svg: string) =>
  Array.from(wellFormed(svg).getElementsByTagName("path")).map((p) => ({
    stroke: p.getAttribute("stroke"),
    dash: p.getAttribute("stroke-dasharray"),
    points: [...(p.getAttribute("d") ?? "").matchAll(/(-?[\d.]+) (-?[\d.]+)/g)].map((m) => [
      Number(m[1]),
      Number(m[2]),
    ]),
  }));

/** One plate that fills 400 x 800 pixels of a photo of 1000 x 1000, with one spot in the middle of one lane. */
function plain(change: Partial<Result["plates"][number]> = {}): Result {
  const sample = sampleResult();
  const spot = {
    ...sample.plates[0].lanes[0].spots[0],
    x: 0.5,
    y: 0.5,
    width_x: 0.1,
    width_rf: 0.1,
    component: "B",
    lights: ["uv254" as const],
  };
  const corners = [
    [200, 100],
    [600, 100],
    [600, 900],
    [200, 900],
  ] as const;
  const line = { y: 0.9, tilt: 0, bow: 0, source: "found" as const };
  return {
    ...sample,
    photos: [{ ...sample.photos[0], file: "a.jpg", width: 1000, height: 1000, plates: ["p1"], corners: [corners] }],
    plates: [
      {
        ...sample.plates[0],
        id: "p1",
        origin: line,
        front: { ...line, y: 0.1 },
        lanes: [{ index: 1, label: "7", fraction: 7, x: 0.5, drift: 0, spots: [spot] }],
        ...change,
      },
    ],
  };
}

const WHOLE = { width: 1000, height: 1000 };
const HALF = { width: 500, height: 500 };

describe("annotationSvg", () => {
  it("is well-formed XML of paths alone, as large as the picture", () => {
    for (const scale of [1, 2.5, 7]) {
      const [w, h] = [3000, 4000].map((v) => Math.round(v / scale));
      const svg = annotationSvg(sampleResult(), "p1-254.jpg", { width: w, height: h });
      const root = wellFormed(svg).documentElement!;
      expect([root.getAttribute("width"), root.getAttribute("height")]).toEqual([String(w), String(h)]);
      const names = new Set(Array.from(root.getElementsByTagName("*")).map((e) => e.tagName));
      expect([...names].sort()).toEqual(["g", "path"]);
      expect(svg).not.toMatch(/NaN|Infinity|undefined|url\(|href/);
    }
  });

  it("puts the spot, the lines and the outline where they lie in the photo", () => {
    const shapes = paths(annotationSvg(plain(), "a.jpg", HALF));
    const outline = shapes.find((s) => s.stroke === "#ffffff" && s.points.length === 4);
    expect(outline?.points).toEqual([
      [100, 50],
      [300, 50],
      [300, 450],
      [100, 450],
    ]);
    const spot = shapes.find((s) => s.stroke === "#EE6677")!;
    const mean = [0, 1].map((k) => spot.points.reduce((sum, p) => sum + p[k], 0) / spot.points.length);
    expect(mean[0]).toBeCloseTo(200, 1);
    expect(mean[1]).toBeCloseTo(250, 1);
    const level = shapes.filter((s) => s.points.length === 25).map((s) => s.points[12][1]);
    expect(new Set(level)).toEqual(new Set([50 + 0.9 * 400, 50 + 0.1 * 400]));
  });

  it("bends the front as it was found and dashes it where it was assumed", () => {
    const front = { y: 0.1, tilt: 0.02, bow: 0.04, source: "assumed" as const };
    const shapes = paths(annotationSvg(plain({ front }), "a.jpg", WHOLE)).filter(
      (s) => s.points.length === 25 && s.points[12][1] < 500,
    );
    expect(shapes).toHaveLength(2);
    for (const s of shapes) {
      expect(s.dash).not.toBeNull();
      expect(s.points.map((p) => p[1])).toSatisfy((ys: number[]) => {
        const at = (y: number) => 100 + 800 * y;
        return (
          Math.abs(ys[0] - at(0.1 - 0.01 + 0.04)) < 0.1 &&
          Math.abs(ys[24] - at(0.1 + 0.01 + 0.04)) < 0.1 &&
          Math.abs(ys[12] - at(0.1)) < 0.1
        );
      });
    }
  });

  it("follows a lane that drifts as it rises", () => {
    const lane = { index: 1, label: "7", fraction: 7, x: 0.5, drift: 0.25, spots: [] };
    const [, centre] = paths(annotationSvg(plain({ lanes: [lane] }), "a.jpg", WHOLE)).filter(
      (s) => s.points.length === 9,
    );
    expect(centre.points[0]).toEqual([400, 820]);
    expect(centre.points[8]).toEqual([480, 180]);
  });

  it("shows on a machine without fonts: the rasteriser draws the spot's ring in its colour", async () => {
    const svg = annotationSvg(plain(), "a.jpg", WHOLE);
    const { data, info } = await sharp(Buffer.from(svg)).raw().toBuffer({ resolveWithObject: true });
    const ring = 400 + 0.1 * 0.62 * 400;
    const at = (500 * info.width + Math.round(ring)) * info.channels;
    const [r, g, b] = data.subarray(at, at + 3);
    expect(Math.hypot(r - 0xee, g - 0x66, b - 0x77)).toBeLessThan(40);
  });

  it("rings a spot of no component thinly, and tells its Rf only where it is likelier there than not", () => {
    const [lane] = plain().plates[0].lanes;
    const unnamed = (confidence: number) => {
      const spots = lane.spots.map((s) => ({ ...s, component: null, confidence }));
      return paths(annotationSvg(plain({ lanes: [{ ...lane, label: "", spots }] }), "a.jpg", WHOLE));
    };
    expect(unnamed(0.4)).toHaveLength(unnamed(0.6).length - 2);
    expect(unnamed(0.4).filter((s) => s.stroke === "#BBBBBB")).toHaveLength(1);
  });

  it("sets a label clear of its own ring and inside the picture", () => {
    const [lane] = plain().plates[0].lanes;
    for (const [x, y] of [
      [0.5, 0.5],
      [0.03, 0.5],
      [0.97, 0.95],
      [0.5, 0.02],
    ]) {
      const spots = [{ ...lane.spots[0], x, y, width_x: 0.05, width_rf: 0.05 }];
      const svg = annotationSvg(plain({ lanes: [{ ...lane, label: "", spots }] }), "a.jpg", WHOLE);
      const shapes = paths(svg);
      const ring = shapes.find((s) => s.stroke === "#EE6677")!.points;
      const label = shapes.at(-1)!.points;
      const [top, bottom] = [Math.min(...ring.map((p) => p[1])), Math.max(...ring.map((p) => p[1]))];
      const [west, east] = [Math.min(...ring.map((p) => p[0])), Math.max(...ring.map((p) => p[0]))];
      for (const [lx, ly] of label) {
        expect(lx > east || lx < west || ly > bottom || ly < top).toBe(true);
        expect(lx >= 0 && ly >= 0 && lx <= 1000 && ly <= 1000).toBe(true);
      }
    }
  });

  it("can be laid over the shrunk photo whatever its sides", async () => {
    // 900 x 1600 is 788 x 1400 when shrunk, and 1600 / (900 / 788) rounds to 1401
    for (const [width, height] of [
      [900, 1600],
      [1600, 901],
      [1237, 2003],
    ]) {
      const small = await shrinkToJpeg({ width, height, data: new Uint8Array(3 * width * height) }, 1400, 82);
      const result = plain();
      const photos = [{ ...result.photos[0], width, height }];
      const drawn = await composeSvg(small.bytes, annotationSvg({ ...result, photos }, "a.jpg", small));
      expect(await sharp(drawn).metadata()).toMatchObject({ width: small.width, height: small.height });
    }
  });

  it("refuses a photo it does not know, in one line", () => {
    expect(() => annotationSvg(plain(), "b.jpg", WHOLE)).toThrow(PlatepoolError);
    expect(() => annotationSvg(plain(), "b.jpg", WHOLE)).toThrow(/^b\.jpg: [^\n]+$/);
    expect(() => annotationSvg(plain(), "a.jpg", { width: 0, height: 0 })).toThrow(PlatepoolError);
  });

  it("leaves out a plate whose corners are no quadrilateral", () => {
    const result = plain();
    const flat = [
      [0, 0],
      [1, 0],
      [2, 0],
      [3, 0],
    ] as const;
    const svg = annotationSvg({ ...result, photos: [{ ...result.photos[0], corners: [flat] }] }, "a.jpg", WHOLE);
    expect(paths(svg)).toEqual([]);
  });
});

describe("the stroke font", () => {
  const SIGNS = [..."0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz.,:-+=?/()_'#"];
  const BOX = strokeText("\u4e2d", 0, 0, 6);

  it.each(SIGNS)("draws %s, and not as the box for unknown signs", (sign) => {
    expect(strokeText(sign, 0, 0, 6)).not.toBe(BOX);
    expect(strokeText(sign, 0, 0, 6)).toMatch(/^M/);
  });

  it("gives every digit a shape of its own", () => {
    expect(new Set([..."0123456789"].map((d) => strokeText(d, 0, 0, 6))).size).toBe(10);
  });

  it("keeps to the line: centred, within its width, from cap line to descender", () => {
    const points = [...strokeText("Rf 0.62 gjpqy", 50, 20, 12).matchAll(/(-?[\d.]+) (-?[\d.]+)/g)];
    const half = strokeTextWidth("Rf 0.62 gjpqy", 12) / 2;
    for (const [, x, y] of points) {
      expect(Math.abs(Number(x) - 50)).toBeLessThanOrEqual(half + 0.06);
      expect(Number(y)).toBeGreaterThanOrEqual(14 - 0.06);
      expect(Number(y)).toBeLessThanOrEqual(14 + 16 + 0.06);
    }
  });

  it("drops accents, makes dashes plain, and boxes what it lacks", () => {
    expect(strokeText("é–", 0, 0, 6)).toBe(strokeText("e-", 0, 0, 6));
    expect(strokeText("\u{1f9ea}", 0, 0, 6)).toBe(BOX);
    expect(strokeText("", 0, 0, 6)).toBe("");
    expect(strokeTextWidth("", 6)).toBe(0);
  });
});
