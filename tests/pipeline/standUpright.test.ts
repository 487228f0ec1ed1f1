import { describe, expect, it } from "vitest";
import type { PhotoQuality, Quad } from "../../src/model/index.ts";
import type { SeenPhoto } from "../../src/pipeline/lookAt.ts";
import { standUpright } from "../../src/pipeline/standUpright.ts";
import { turnQuad } from "../../src/plate/upright/index.ts";
import { canvas, expose, type Paint, paintQuad, tilted } from "../plate/locate/scene.ts";

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
  plates: [{ quad, sureness: 0.9, quality }],
  findings: [],
};

const layer: Paint = () => [190, 200, 170];

/** A layer with a row of ticks near its foot. */
const ticked: Paint = (u, v) => {
  const tick = Math.abs(((u * 8) % 1) - 0.5) < 0.05 && v > 0.85 && v < 0.9;
  return tick ? [100, 105, 90] : [190, 200, 170];
};

/** A photo of a plate taller than wide, its corners front up first, and the same as `locate` sees it. */
function drawn(file: string, paint: Paint, turn: 0 | 1 | 3): { front: Quad; photo: SeenPhoto } {
  const on = canvas(640, 640, () => [60, 50, 45]);
  const front = tilted(320, 320, 320, 420, -90 * turn);
  paintQuad(on, front, paint);
  const picture = expose(on, 1.5, 7);
  const seen = turnQuad(front, turn === 0 ? 0 : turn === 1 ? 3 : 1);
  return {
    front,
    photo: { ...blank, file, picture, width: 640, height: 640, plates: [{ quad: seen, sureness: 0.9, quality }] },
  };
}

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

  it("ask for each plate of each photo what is told of its lanes, unless somebody said how it stands", () => {
    const two = { ...blank, plates: [blank.plates[0], blank.plates[0]] };
    const asked = new Set<string>();
    standUpright([two, { ...blank, file: "b.png" }, { ...blank, file: "c.png", up: "left" }], null, {
      lanesOf: (file, place) => {
        asked.add(`${file} ${place}`);
        return null;
      },
    });
    expect([...asked].sort()).toEqual(["a.png 0", "a.png 1", "b.png 0"]);
  });

  it.each([
    ["up", "right", ["first", "second"]],
    ["down", "right", ["second", "first"]],
    ["left", "below", ["second", "first"]],
    ["right", "below", ["first", "second"]],
    ["left", "right", ["first", "second"]],
    ["right", "right", ["first", "second"]],
  ] as const)(
    "are listed from the left as they stand: front %s, the second seen %s of the first",
    (side, where, order) => {
      const moved = quad.map(([x, y]) => (where === "right" ? [x + 45, y] : [x, y + 75])) as unknown as Quad;
      const two = { ...blank, plates: [blank.plates[0], { ...blank.plates[0], quad: moved }] };
      const [photo] = standUpright([two], side);
      const names = photo.plates.map((plate) => (moved.some((p) => p === plate.quad[0]) ? "second" : "first"));
      expect(names).toEqual(order);
    },
  );

  it("take what is told of lanes for the plate that is theirs as it would stand", () => {
    const [one] = [drawn("a.png", ticked, 0)];
    const second = { ...one.photo.plates[0], quad: one.front.map(([x, y]) => [x + 320, y]) as unknown as Quad };
    const two = { ...one.photo, plates: [one.photo.plates[0], second] };
    const asked: number[] = [];
    standUpright([two], null, {
      lanesOf: (_, place) => {
        asked.push(place);
        return null;
      },
    });
    // Upright, a quarter turn either way (then one above the other), and upside down the other way round.
    expect(asked).toEqual([0, 0, 1, 0, 1, 1, 0, 1]);
  });

  it("take for one that lies upside down alone what is told of the lanes of its place", () => {
    const on = canvas(900, 640, () => [60, 50, 45]);
    const [first, second] = [tilted(240, 320, 320, 420, 0), tilted(650, 320, 320, 420, 180)];
    for (const front of [first, second]) paintQuad(on, front, ticked);
    const plates = [first, turnQuad(second, 2)].map((own) => ({ quad: own, sureness: 0.9, quality }));
    const photo = { ...blank, picture: expose(on, 1.5, 7), width: 900, height: 640, plates };
    const asked: number[] = [];
    standUpright([photo], null, {
      lanesOf: (_, place) => {
        asked.push(place);
        return null;
      },
    });
    // Once as if all were turned with it, and once more as it lies among the others.
    expect(asked.slice(4)).toEqual([1, 1, 0, 1, 1, 1, 1, 1]);
  });

  it("do not turn with the same plate in another photo where one alone was laid down otherwise", () => {
    const marked = (ticks: number, spots: number): Paint => {
      return (u, v) => {
        const tick = Math.abs(((u * ticks) % 1) - 0.5) < 0.005 * ticks && v > 0.85 && v < 0.9;
        const off = ((u * spots) % 1) - 0.5;
        const down = v - 0.5 - 0.3 * (u - 0.5);
        // It fades towards the origin.
        const spot = Math.exp(-((off / 0.02 / spots) ** 2) - (down / (down > 0 ? 0.06 : 0.02)) ** 2);
        const front = Math.abs(v - 0.1 - 0.01 * u) < 0.012 ? 0.9 : 1;
        const k = (tick ? 0.5 : 1) * (1 - 0.6 * spot) * front;
        return [190 * k, 200 * k, 170 * k];
      };
    };
    const taken = (file: string, degrees: number): SeenPhoto => {
      const on = canvas(900, 640, () => [60, 50, 45]);
      const fronts = [tilted(240, 320, 320, 420, 0), tilted(650, 320, 320, 420, degrees)];
      paintQuad(on, fronts[0], marked(9, 4));
      paintQuad(on, fronts[1], marked(7, 5));
      const plates = [fronts[0], turnQuad(fronts[1], degrees === 180 ? 2 : 0)].map((own) => ({
        quad: own,
        sureness: 0.9,
        quality,
      }));
      return { ...blank, file, picture: expose(on, 1.5, 7), width: 900, height: 640, plates };
    };
    const photos = standUpright([taken("a.png", 0), taken("b.png", 180)], null, { together: () => true });
    const turns = photos.map(({ ways = [] }) => ways.map(({ turn }) => turn));
    expect(turns).toEqual([
      [0, 0],
      [0, 2],
    ]);
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

  it.each([1, 3] as const)(
    "do not turn with another photo that their shape shows to lie across (%i quarters)",
    (turn) => {
      const [poor, clear] = [drawn("a.png", layer, 0), drawn("b.png", ticked, turn)];
      for (const both of [
        [poor, clear],
        [clear, poor],
      ]) {
        const upright = standUpright(
          both.map(({ photo }) => photo),
          null,
        );
        expect(upright.map((p) => p.plates[0].quad)).toEqual(both.map(({ front }) => front));
      }
    },
  );
});
