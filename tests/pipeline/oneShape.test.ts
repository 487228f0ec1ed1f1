import { describe, expect, it } from "vitest";
import type { Light, Quad } from "../../src/model/index.ts";
import type { RejectedPhoto, SeenPhoto } from "../../src/pipeline/lookAt.ts";
import { agreeOnShape } from "../../src/pipeline/oneShape.ts";

const quality = { blurPx: 1, clipped: [0, 0, 0], evenness: 1, platePx: 100, cutOff: false, advice: null } as const;

/** A photo seen from straight above, with one outline of the size given. */
function seen(light: Light, width: number, height: number, sureness: number): SeenPhoto {
  const quad: Quad = [
    [100, 100],
    [100 + width, 100],
    [100 + width, 100 + height],
    [100, 100 + height],
  ];
  const picture = { width: 800, height: 800, data: new Uint8Array(0) };
  const plates = [{ quad, sureness, quality }];
  return { ...{ file: light, light, stain: null, width: 800, height: 800, scale: 1 }, picture, plates, findings: [] };
}

const none: RejectedPhoto = {
  file: "none",
  light: "uv365",
  width: 800,
  height: 800,
  reason: "No TLC plate was found.",
};
const green = seen("uv254", 400, 250, 0.7);
const paper = seen("uv365", 300, 420, 0.8);
const rightOne = seen("uv365", 410, 250, 0.5);

/** Looks again: what is found in each photo once the shape is known. */
const finds =
  (...found: (SeenPhoto | RejectedPhoto)[]) =>
  async (photo: number) =>
    found[photo];

describe("photos of one plate", () => {
  it("are left as they are where the outlines agree, in whatever turn", async () => {
    const turned = seen("uv365", 125, 200, 0.4);
    const again = async () => Promise.reject(new Error("no second look is needed"));
    expect(await agreeOnShape([green, turned], 1, again)).toEqual([green, turned]);
  });

  it("put each other right: a sheet of paper is no plate where the plate is seen in its shape", async () => {
    const wide = seen("uv254", 300, 420, 0.4);
    expect(await agreeOnShape([green, paper], 1, finds(wide, rightOne))).toEqual([green, rightOne]);
  });

  it("stay where the shape is not found, or far less clearly", async () => {
    const faint = seen("uv365", 410, 250, 0.3);
    expect(await agreeOnShape([green, paper], 1, finds(none, none))).toEqual([green, paper]);
    expect(await agreeOnShape([green, paper], 1, finds(none, faint))).toEqual([green, paper]);
  });

  it("hold to a green layer rather than to an outline of another photo", async () => {
    const bent = seen("uv254", 300, 420, 0.55);
    expect(await agreeOnShape([green, paper], 1, finds(bent, none))).toEqual([green, paper]);
  });

  it("find the plate where none was seen", async () => {
    expect(await agreeOnShape([green, none], 1, finds(green, rightOne))).toEqual([green, rightOne]);
  });

  it("find two plates where they seemed one, by their shapes in another photo", async () => {
    const pair = (...plates: SeenPhoto[]): SeenPhoto => ({ ...plates[0], plates: plates.flatMap((p) => p.plates) });
    const two = pair(seen("uv254", 400, 250, 0.7), seen("uv254", 200, 250, 0.7));
    const merged = seen("uv365", 620, 250, 0.6);
    const asTwo = pair(seen("uv365", 410, 250, 0.4), seen("uv365", 205, 250, 0.5));
    const asked: unknown[] = [];
    const again = async (_: number, shapes: unknown) => {
      asked.push(shapes);
      return asTwo;
    };
    expect(await agreeOnShape([two, merged], 2, again)).toEqual([two, asTwo]);
    expect(asked[0]).toHaveLength(2);
    const nearly = pair(seen("uv365", 410, 250, 0.4), seen("uv365", 175, 250, 0.5));
    expect(await agreeOnShape([two, merged], 2, finds(merged, nearly))).toEqual([two, nearly]);
    const reversed = pair(seen("uv365", 205, 250, 0.5), seen("uv365", 410, 250, 0.4));
    expect(await agreeOnShape([two, reversed], 2, finds())).toEqual([two, reversed]);
    const narrow = pair(seen("uv365", 410, 250, 0.7), seen("uv365", 150, 250, 0.7));
    expect(await agreeOnShape([two, narrow], 2, finds(merged, asTwo))).toEqual([two, asTwo]);
  });
});
