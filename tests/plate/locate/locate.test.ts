import { describe, expect, it } from "vitest";
import type { Quad } from "../../../src/model/index.ts";
import { locatePlates } from "../../../src/plate/locate/index.ts";
import { canvas, cornerError, expose, layer, paintQuad, tilted, vignette } from "./scene.ts";

const GREEN = layer([120, 235, 140], [30, 70, 60], 8);
const STAINED = layer([225, 190, 140], [90, 60, 40], 8);
const find = (on: ReturnType<typeof canvas>, sd = 2, count: number | null = null) =>
  locatePlates(expose(on, sd, 3), { count });

describe("a plate in a photo", () => {
  it.each([
    ["straight", 0, 0],
    ["askew", 7, 0.05],
    ["askew the other way, seen from the side", -12, 0.1],
  ])("is found to a fraction of a percent of its diagonal: %s", (_, degrees, pull) => {
    const on = canvas(1000, 800, () => [35, 30, 60]);
    const truth = tilted(520, 410, 560, 480, degrees, pull);
    paintQuad(on, truth, GREEN);
    vignette(on, 0.4);
    const { value, findings } = find(on);
    expect(findings).toEqual([]);
    expect(value).toHaveLength(1);
    expect(cornerError(value[0].quad, truth)).toBeLessThan(0.004);
    expect(value[0]).toMatchObject({ wholeFrame: false, cutOff: false });
  });

  it("is found on paper, under a finger, with a chipped corner and in noise", () => {
    const on = canvas(1000, 800, () => [70, 60, 50]);
    paintQuad(on, tilted(500, 400, 900, 700, 3), () => [245, 245, 240]);
    const truth = tilted(480, 400, 560, 460, -4, 0.03);
    paintQuad(on, truth, STAINED);
    paintQuad(on, tilted(truth[1][0], truth[1][1], 60, 60, 40), () => [245, 245, 240]);
    paintQuad(on, tilted(480, truth[2][1] + 10, 90, 120, 80), () => [205, 150, 125]);
    const { value } = find(on, 6);
    expect(value).toHaveLength(1);
    expect(cornerError(value[0].quad, truth)).toBeLessThan(0.008);
  });

  it.each([1, null])("is the outline, though a streak of glare parts the layer (%s told)", (told) => {
    const on = canvas(1000, 800, () => [40, 45, 50]);
    const truth = tilted(480, 400, 600, 480, 2);
    const pencil = (u: number, v: number) => Math.abs(v - 0.85) < 0.004 || (Math.abs(v - 0.12) < 0.004 && u < 0.3);
    paintQuad(on, truth, (u, v) => (pencil(u, v) ? [110, 100, 90] : STAINED(u, v)));
    paintQuad(on, tilted(500, 430, 900, 14, 12), () => [252, 250, 246]);
    const { value } = find(on, 2, told);
    expect(value).toHaveLength(1);
    expect(cornerError(value[0].quad, truth)).toBeLessThan(0.008);
  });

  it("is found though it is small, in a picture full of longer lines", () => {
    const lined = (x: number, y: number): [number, number, number] =>
      y % 44 < 2 || Math.abs(x - 1000 - 0.12 * y) < 9 ? [196, 190, 205] : [222, 212, 226];
    const on = canvas(2000, 1124, lined);
    const truth = tilted(760, 520, 430, 225, 2);
    paintQuad(on, truth, (u, v) => (Math.abs(v - 0.85) < 0.008 ? [150, 120, 95] : STAINED(u, v)));
    const { value } = find(on, 3, 1);
    expect(value).toHaveLength(1);
    expect(cornerError(value[0].quad, truth)).toBeLessThan(0.012);
  });

  it("is the outline, not the part below a pencil line", () => {
    const on = canvas(900, 700, () => [40, 45, 50]);
    const truth = tilted(450, 350, 500, 480, 2);
    paintQuad(on, truth, (u, v) => (Math.abs(v - 0.12) < 0.004 ? [110, 100, 90] : STAINED(u, v)));
    const { value } = find(on);
    expect(value).toHaveLength(1);
    expect(cornerError(value[0].quad, truth)).toBeLessThan(0.005);
  });

  it("is the outline, not the frame, where a pale one on a pale bench reaches close to the border", () => {
    const on = canvas(900, 1200, () => [178, 195, 208]);
    const truth: Quad = [
      [55, 180],
      [887, 175],
      [888, 1115],
      [52, 1110],
    ];
    paintQuad(on, truth, (_, v) => (Math.abs(v - 0.8) < 0.004 ? [140, 140, 145] : [186, 182, 196]));
    const { value } = find(on);
    expect(value).toHaveLength(1);
    expect(value[0].wholeFrame).toBe(false);
    expect(cornerError(value[0].quad, truth)).toBeLessThan(0.01);
  });

  it("is the outline, not the part above a row of glowing spots", () => {
    const on = canvas(900, 700, () => [18, 12, 26]);
    const truth = tilted(450, 350, 620, 430, 3);
    paintQuad(on, truth, (u, v) => {
      const glow = Math.exp(-(((v - 0.5) / 0.08) ** 8)) * (0.7 + 0.3 * Math.cos(2 * Math.PI * 9 * u));
      const pencil = Math.abs(v - 0.1) < 0.004 || Math.abs(v - 0.9) < 0.004 ? 0.7 : 1;
      return [pencil * (47 + 60 * glow), pencil * (36 + 120 * glow), pencil * (84 + 165 * glow)];
    });
    const { value } = find(on);
    expect(value).toHaveLength(1);
    expect(cornerError(value[0].quad, truth)).toBeLessThan(0.008);
  });

  it("is found where it is black on a black bench, in noise, beside a sheet that the lamp lights up", () => {
    const on = canvas(1000, 1000, (x) => (x < 150 ? [60, 80, 150] : [15, 11, 26]));
    const truth = tilted(560, 520, 460, 430, 2);
    const spots = [0.2, 0.4, 0.6, 0.8].map((u) => [u, 0.6] as const);
    paintQuad(on, truth, (u, v) => {
      const glow = spots.reduce((sum, [x, y]) => sum + Math.exp(-((u - x) ** 2 + (v - y) ** 2) / 0.0008), 0);
      return [18 + 60 * glow, 13.5 + 130 * glow, 31 + 90 * glow];
    });
    const { value } = find(on, 7);
    expect(value).toHaveLength(1);
    expect(cornerError(value[0].quad, truth)).toBeLessThan(0.02);
  });

  it("is found where glowing spots fill most of a dark one", () => {
    const on = canvas(900, 700, () => [18, 12, 26]);
    const truth = tilted(450, 350, 420, 480, -8);
    const spots = [0.14, 0.32, 0.5, 0.68, 0.86].flatMap((v) => [0.3, 0.55, 0.8].map((u) => [u, v] as const));
    paintQuad(on, truth, (u, v) => {
      const glow = spots.reduce((sum, [x, y]) => sum + Math.exp(-((u - x) ** 2 + (v - y) ** 2) / 0.006), 0);
      return [50 + 60 * glow, 40 + 150 * glow, 78 + 140 * glow];
    });
    const { value } = find(on);
    expect(value).toHaveLength(1);
    expect(cornerError(value[0].quad, truth)).toBeLessThan(0.008);
  });

  it("is a cloudy stained layer on which no spot or mark is plain; an even coloured card is none", () => {
    const truth = tilted(450, 350, 500, 440, 4);
    const stain = [196, 186, 112] as const;
    const cloudy = (u: number, v: number) =>
      1 + 0.05 * Math.sin(34 * u + 5 * Math.sin(21 * v)) + 0.05 * Math.sin(52 * v + 4 * Math.sin(31 * u));
    const found = [cloudy, () => 1].map((shade) => {
      const on = canvas(900, 700, () => [215, 212, 205]);
      paintQuad(on, truth, (u, v) => [stain[0] * shade(u, v), stain[1] * shade(u, v), stain[2] * shade(u, v)]);
      return find(on).value;
    });
    expect(found.map((plates) => plates.length)).toEqual([1, 0]);
    expect(cornerError(found[0][0].quad, truth)).toBeLessThan(0.005);
  });

  it("is what has the shape that another photo shows, though nothing on it would show it for one", () => {
    const on = canvas(900, 700, () => [96, 70, 44]);
    const truth = tilted(450, 350, 500, 440, 4);
    paintQuad(on, truth, () => [205, 198, 186]);
    const picture = expose(on, 1, 3);
    const fits = (quad: Quad) => cornerError(quad, truth) < 0.02;
    expect(locatePlates(picture, { count: 1 }).value).toHaveLength(0);
    const { value } = locatePlates(picture, { count: 1, fits });
    expect(value).toHaveLength(1);
    expect(cornerError(value[0].quad, truth)).toBeLessThan(0.005);
    expect(locatePlates(picture, { count: 1, fits: () => false }).value).toHaveLength(0);
  });

  it("that the frame cuts off ends at the frame, with a doubt", () => {
    const on = canvas(900, 700, () => [35, 30, 60]);
    paintQuad(on, tilted(450, 500, 500, 600, 0), GREEN);
    const { value, findings } = find(on);
    expect(value).toHaveLength(1);
    expect(value[0].cutOff).toBe(true);
    expect(Math.max(...value[0].quad.map((p) => p[1]))).toBeGreaterThan(690);
    expect(findings.map((f) => f.code)).toEqual(["plate-cut-off"]);
  });

  it("along which the picture was cropped at both sides ends there, though its layer is as dark as the bench", () => {
    const on = canvas(750, 770, () => [8, 7, 17]);
    const truth = tilted(375, 385, 752, 710, 0);
    const glow = (u: number, v: number) =>
      [0.64, 0.71, 0.78, 0.85, 0.92].reduce(
        (sum, x) => sum + Math.exp(-(((u - x) / 0.02) ** 2) - ((v - 0.66) / 0.02) ** 2),
        0,
      );
    const pencil = (v: number) => (Math.abs(v - 0.82) < 0.0015 || Math.abs(v - 0.05) < 0.0015 ? -10 : 0);
    paintQuad(on, truth, (u, v) => {
      const [spot, line] = [150 * glow(u, v), pencil(v)];
      return [31 + line + spot, 26 + line + 0.7 * spot, 58 + line];
    });
    const [plate] = find(on, 2, 1).value;
    expect(
      cornerError(plate.quad, [
        [0, 30],
        [750, 30],
        [750, 740],
        [0, 740],
      ]),
    ).toBeLessThan(0.004);
    expect(plate.cutOff).toBe(true);
  });

  it("that fills it is the whole picture", () => {
    const picture = expose(
      canvas(800, 700, (x, y) => STAINED(x / 800, y / 700)),
      2,
      3,
    );
    const { value } = locatePlates(picture, { count: null });
    expect(value).toHaveLength(1);
    expect(value[0].wholeFrame).toBe(true);
    expect(value[0].quad[2]).toEqual([800, 700]);
  });

  it("is the same when looked for again", () => {
    const on = canvas(600, 500, () => [35, 30, 60]);
    paintQuad(on, tilted(300, 250, 320, 300, 5), GREEN);
    expect(find(on)).toEqual(find(on));
  });
});

describe("plates side by side", () => {
  const two = canvas(1200, 800, () => [35, 30, 60]);
  const left = tilted(330, 420, 400, 460, -2);
  const right = tilted(830, 380, 420, 500, 3);
  paintQuad(two, right, GREEN);
  paintQuad(two, left, GREEN);

  it("are each found, left to right", () => {
    const { value } = find(two);
    expect(value.map((p) => cornerError(p.quad, p === value[0] ? left : right) < 0.006)).toEqual([true, true]);
  });

  it("are each found where one is cut for many lanes and one, of the same height, for few", () => {
    const on = canvas(1000, 700, () => [35, 30, 60]);
    const wide = tilted(380, 350, 620, 330, 2);
    const narrow = tilted(800, 365, 150, 330, 2);
    paintQuad(on, wide, GREEN);
    paintQuad(on, narrow, layer([120, 235, 140], [30, 70, 60], 3));
    const { value } = find(on);
    expect(value).toHaveLength(2);
    expect(cornerError(value[1].quad, narrow)).toBeLessThan(0.006);
  });

  it("are each found where they are listed and one is small", () => {
    const on = canvas(1200, 800, () => [35, 30, 60]);
    const large = tilted(420, 400, 560, 700, 2);
    const small = tilted(950, 300, 270, 350, 2);
    paintQuad(on, large, GREEN);
    paintQuad(on, small, layer([120, 235, 140], [30, 70, 60], 3));
    expect(find(on).value).toHaveLength(1);
    const { value } = find(on, 2, 2);
    expect(value).toHaveLength(2);
    expect(cornerError(value[1].quad, small)).toBeLessThan(0.006);
  });

  it("are each found where they are listed and look otherwise, each a plate by itself", () => {
    const on = canvas(1200, 800, () => [60, 60, 90]);
    paintQuad(on, left, STAINED);
    paintQuad(on, right, layer([150, 130, 200], [60, 50, 90], 3));
    expect(find(on).value).toHaveLength(1);
    const { value } = find(on, 2, 2);
    expect(value.map(({ quad }, i) => cornerError(quad, [left, right][i]) < 0.006)).toEqual([true, true]);
    paintQuad(on, right, () => [150, 130, 200]);
    expect(find(on, 2, 2).value).toHaveLength(1);
  });

  it("are found though they are small, on wood whose grain is plainer than their rims", () => {
    const grain = (x: number, y: number) => {
      const across = y + 0.06 * x;
      return 7 * Math.sin(across / 9 + 2 * Math.sin(x / 260)) + 5 * Math.sin(across / 23 + x / 410);
    };
    const on = canvas(2000, 1500, (x, y) => [50 + grain(x, y), 38 + grain(x, y), 60 + 0.7 * grain(x, y)]);
    const truth = [tilted(600, 760, 430, 340, -15), tilted(1050, 630, 430, 340, -15)];
    for (const plate of truth)
      paintQuad(on, plate, (u, v) => {
        const glow = [0.1, 0.3, 0.5, 0.7, 0.9].reduce(
          (sum, x) => sum + Math.exp(-(((u - x) / 0.03) ** 2) - ((v - 0.4) / 0.04) ** 2),
          0,
        );
        return [24 + 60 * glow, 20 + 130 * glow, 61 + 120 * glow];
      });
    const { value } = find(on, 4, 2);
    expect(value).toHaveLength(2);
    for (const [i, plate] of value.entries()) expect(cornerError(plate.quad, truth[i])).toBeLessThan(0.02);
  });

  it("are no more than the photo is said to show", () => {
    expect(find(two, 2, 1).value).toHaveLength(1);
  });

  it("a sheet of paper beside a plate is none", () => {
    const on = canvas(1200, 800, () => [70, 60, 50]);
    paintQuad(on, left, STAINED);
    paintQuad(on, right, () => [245, 245, 240]);
    const { value } = find(on);
    expect(value).toHaveLength(1);
    expect(cornerError(value[0].quad, left)).toBeLessThan(0.006);
  });
});

describe("a blank layer with a plain rim", () => {
  const blank = (colour: [number, number, number]) => {
    const on = canvas(900, 700, () => [60, 50, 45]);
    paintQuad(on, tilted(450, 350, 520, 400, 4), () => colour);
    return on;
  };

  it("is read where its photo is listed, with a doubt", () => {
    const { value, findings } = find(blank([133, 124, 125]), 2, 1);
    expect(value).toHaveLength(1);
    expect(findings.map((f) => f.code)).toEqual(["plate-blank"]);
  });

  it("is none where it is not, nor is a listed sheet of paper", () => {
    expect(find(blank([133, 124, 125])).value).toEqual([]);
    expect(find(blank([245, 245, 240]), 2, 1).value).toEqual([]);
  });

  it("is a layer that glows so that all is clipped, where a listed photo was taken under 254 nm", () => {
    const photo = expose(blank([254, 254, 254]), 1, 7);
    expect(locatePlates(photo, { count: 1, light: "uv254" }).value).toHaveLength(1);
    expect(locatePlates(photo, { count: null, light: "uv254" }).value).toEqual([]);
    expect(locatePlates(photo, { count: 1, light: "uv365" }).value).toEqual([]);
  });
});

describe("a photo without a plate is refused:", () => {
  const text = (x: number, y: number): [number, number, number] =>
    Math.floor(y / 9) % 2 === 0 && (x * 7 + Math.floor(y / 18) * 13) % 11 < 6 ? [40, 40, 40] : [240, 240, 235];
  it.each([
    ["nothing but bench", () => canvas(800, 600, () => [90, 80, 70])],
    ["black", () => canvas(800, 600, () => [1, 1, 2])],
    ["a blank sheet", () => withBox((_u, _v) => [245, 245, 240])],
    ["a page of text", () => withBox((u, v) => text(Math.round(500 * u), Math.round(400 * v)))],
    [
      "a filled column",
      () => withBox((_u, v) => (v < 0.3 ? [200, 190, 180] : v < 0.6 ? [120, 80, 60] : [235, 225, 210])),
    ],
    ["slats", () => canvas(800, 600, (x) => (x % 60 < 30 ? [200, 190, 170] : [90, 80, 70]))],
  ])("%s", (_, draw) => {
    const { value, findings } = find(draw());
    expect(value).toEqual([]);
    expect(findings.map((f) => f.code)).toEqual(["no-plate"]);
    expect(findings[0].remedy).toMatch(/four edges/);
  });

  function withBox(paint: Parameters<typeof paintQuad>[2]) {
    const on = canvas(800, 600, () => [70, 60, 50]);
    paintQuad(on, tilted(400, 300, 500, 400, 3), paint);
    return on;
  }
});
