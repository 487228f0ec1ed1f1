import { describe, expect, it } from "vitest";
import type { Light, PhotoQuality, Quad } from "../../src/model/index.ts";
import type { SeenPhoto } from "../../src/pipeline/lookAt.ts";
import { agreeOnLook } from "../../src/pipeline/oneLook.ts";
import { canvas, cornerError, expose, type Paint, paintQuad, tilted } from "../plate/locate/scene.ts";

const SPOTS = [
  [0.2, 0.3],
  [0.35, 0.35],
  [0.5, 0.35],
  [0.65, 0.62],
  [0.8, 0.7],
];

const layer =
  (glowing: boolean): Paint =>
  (u, v) => {
    const spot = SPOTS.reduce((sum, [x, y]) => sum + Math.exp(-((u - x) ** 2 + (v - y) ** 2) / 0.0009), 0);
    const pencil = Math.abs(v - 0.88) < 0.005 ? 0.75 : 1;
    return glowing
      ? [50 + 40 * spot, 34 + 90 * spot, 90 * pencil + 120 * spot]
      : [60 * pencil, pencil * 200 * Math.exp(-spot), 90 * pencil];
  };

const quality: PhotoQuality = { blurPx: 1, clipped: [0, 0, 0], evenness: 1, platePx: 300, cutOff: false, advice: null };

function seen(file: string, light: Light, sureness: number, quad: Quad, picture: SeenPhoto["picture"]): SeenPhoto {
  const { width, height } = picture;
  const plates = [{ quad, sureness, quality }];
  return { file, light, stain: null, picture, width, height, scale: 1, plates, findings: [] };
}

describe("photos of one plate", () => {
  const [green, plate, paper] = [
    tilted(400, 400, 420, 520, 3),
    tilted(380, 420, 400, 495, -5),
    tilted(390, 400, 640, 700, -3),
  ];
  const on = canvas(800, 800, () => [40, 30, 70]);
  paintQuad(on, green, layer(false));
  const under = canvas(800, 800, () => [14, 9, 22]);
  paintQuad(under, paper, () => [58, 44, 108]);
  paintQuad(under, plate, layer(true));
  const first = seen("a.png", "uv254", 0.9, green, expose(on, 2, 3));

  it("are put right by each other where the paper beneath was taken for the plate", () => {
    const [kept, mended] = agreeOnLook([first, seen("b.png", "uv365", 0.7, paper, expose(under, 1, 4))]);
    expect(kept).toBe(first);
    expect("plates" in mended && cornerError(mended.plates[0].quad, plate)).toBeLessThan(0.01);
  });

  it("are left alone where the same things stand out, or nothing shows another outline", () => {
    const right = seen("b.png", "uv365", 0.7, plate, expose(under, 1, 4));
    const blank = seen(
      "c.png",
      "uv365",
      0.7,
      paper,
      expose(
        canvas(800, 800, () => [14, 9, 22]),
        1,
        5,
      ),
    );
    expect(agreeOnLook([first, right, blank])).toEqual([first, right, blank]);
  });
});
