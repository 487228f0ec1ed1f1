import { describe, expect, it } from "vitest";
import { medianSize } from "../../../src/plate/upright/medianSize.ts";
import { halfTurnInPlace, quarterTurn, readSigns, type Signs } from "../../../src/plate/upright/signs.ts";
import { makePlane, type Plane } from "../../../src/raster/picture.ts";

const [WIDTH, HEIGHT] = [150, 110];

/** Noise with one spot that fades downwards and one pencil stroke. */
function drawn(): [Plane, Plane, Plane] {
  let seed = 1;
  const noise = () => {
    seed = (seed * 16807) % 2147483647;
    return seed / 2147483647;
  };
  const plane = () => {
    const { data } = makePlane(WIDTH, HEIGHT);
    for (let y = 0, i = 0; y < HEIGHT; y++)
      for (let x = 0; x < WIDTH; x++, i++) {
        const down = y - 40;
        const spot = 8 * Math.exp(-(((x - 50) / 5) ** 2) - (down / (down > 0 ? 14 : 4)) ** 2);
        data[i] = 180 + 2 * noise() - spot - (x > 90 && x < 130 && y === 80 ? 50 : 0);
      }
    return { width: WIDTH, height: HEIGHT, data };
  };
  return [plane(), plane(), plane()];
}

/** Kept while other plates are looked at. */
function signsOf(patch: readonly [Plane, Plane, Plane]): Signs {
  const { signs } = readSigns(patch);
  const { strokes, soft } = signs;
  return {
    ...signs,
    strokes: strokes.slice(),
    soft: { ...soft, spots: soft.spots.slice(), shade: soft.shade.slice() },
  };
}

describe("signs on a plate", () => {
  const patch = drawn();
  const signs = signsOf(patch);
  const { soft } = signs;

  it("are strokes and spots where they were drawn", () => {
    expect(signs.strokes[80 * WIDTH + 110]).toBeGreaterThan(8);
    expect([soft.width, soft.height]).toEqual([WIDTH / 2, HEIGHT / 2]);
    expect(soft.spots[21 * soft.width + 25]).toBeGreaterThan(8);
    const [spot] = [...soft.blobs].sort((a, b) => (b.x1 - b.x0) * (b.y1 - b.y0) - (a.x1 - a.x0) * (a.y1 - a.y0));
    expect(Math.abs(spot.cx - 25)).toBeLessThan(1);
    expect(spot.skewY).toBeGreaterThan(0.15);
    expect(Math.abs(spot.skewX)).toBeLessThan(0.15);
    expect(spot.tailY).toBeGreaterThan(0.3);
    expect(Math.abs(spot.tailX)).toBeLessThan(0.3);
  });

  it("turn with the plate", () => {
    const aside = quarterTurn(signs);
    expect([aside.width, aside.height]).toEqual([HEIGHT, WIDTH]);
    expect([aside.soft.width, aside.soft.height]).toEqual([soft.height, soft.width]);
    for (const [x, y] of [
      [110, 80],
      [50, 42],
      [3, 100],
    ])
      expect(aside.strokes[x * HEIGHT + HEIGHT - 1 - y]).toBe(signs.strokes[y * WIDTH + x]);
    const read = signsOf([turned(patch[0]), turned(patch[1]), turned(patch[2])]);
    expect(read.soft.blobs.length).toBe(aside.soft.blobs.length);
    const twice = quarterTurn(aside);
    const over = halfTurnInPlace({
      ...signs,
      strokes: signs.strokes.slice(),
      soft: { ...soft, spots: soft.spots.slice(), shade: soft.shade.slice() },
    });
    expect(over).toEqual(twice);
  });
});

/** Clockwise by a quarter. */
function turned({ width, height, data }: Plane): Plane {
  const to = makePlane(height, width);
  for (let y = 0, i = 0; y < height; y++)
    for (let x = 0; x < width; x++, i++) to.data[x * height + height - 1 - y] = data[i];
  return to;
}

describe("the median size of a difference", () => {
  it("is that of every third one sorted", () => {
    for (const n of [1, 2, 300, 301]) {
      const a = Float32Array.from({ length: n }, (_, i) => Math.sin(i * 12.9898) * 10 ** (i % 5));
      const b = Float32Array.from({ length: n }, (_, i) => (i % 7 === 0 ? a[i] : Math.cos(i)));
      const sizes = a.map((v, i) => Math.abs(v - b[i])).filter((_, i) => i % 3 === 0);
      expect(medianSize(a, b, 3)).toBe(sizes.sort()[sizes.length >> 1]);
    }
  });
});
