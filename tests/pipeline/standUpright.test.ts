import { describe, expect, it } from "vitest";
import type { PhotoQuality, Quad } from "../../src/model/index.ts";
import type { SeenPhoto } from "../../src/pipeline/lookAt.ts";
import { standUpright } from "../../src/pipeline/standUpright.ts";

const quad: Quad = [
  [10, 20],
  [50, 20],
  [50, 90],
  [10, 90],
];
const quality: PhotoQuality = {
  blurPx: 1,
  clipped: [0, 0, 0],
  evenness: 1,
  platePx: 40,
  cutOff: false,
  advice: null,
};

/** A grey photo with a blank plate: nothing on it tells which way up it stands. */
const blank: SeenPhoto = {
  file: "a.png",
  light: "white",
  stain: null,
  picture: { width: 100, height: 100, data: new Uint8Array(30_000).fill(180) },
  width: 100,
  height: 100,
  scale: 1,
  plates: [{ quad, quality }],
  findings: [],
};

describe("plates set upright", () => {
  it.each([
    ["up", 0, 40],
    ["left", 3, 70],
    ["down", 2, 40],
    ["right", 1, 70],
  ] as const)("with the front told to point %s begin at the right corner", (side, first, width) => {
    const [photo] = standUpright([blank], side);
    expect(photo.plates[0].quad[0]).toEqual(quad[first]);
    expect(photo.plates[0].quality.platePx).toBeCloseTo(width);
    expect(photo.findings).toEqual([]);
  });

  it("each photo as it is said to stand; what is said of all counts before", () => {
    const photos = [
      blank,
      { ...blank, file: "b.png", up: "left" as const },
      { ...blank, file: "c.png", up: "down" as const },
    ];
    const firsts = (told: "right" | null) => standUpright(photos, told).map((p) => p.plates[0].quad[0]);
    expect(firsts(null)).toEqual([quad[0], quad[3], quad[2]]);
    expect(firsts("right")).toEqual([quad[1], quad[1], quad[1]]);
    expect(standUpright(photos, null).map((p) => p.findings.length)).toEqual([1, 0, 0]);
  });

  it("stay as the photo shows them where nothing tells, with a doubt", () => {
    const [photo] = standUpright([blank], null);
    expect(photo.plates[0]).toBe(blank.plates[0]);
    expect(photo.findings.map((f) => f.code)).toEqual(["way-up-unsure"]);
  });
});
