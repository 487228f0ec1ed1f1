import { describe, expect, it } from "vitest";
import { normalDeviate, seededRandom } from "../../src/math/random.ts";
import { boxBlur } from "../../src/raster/blur.ts";
import { findFlatOutlines } from "../../src/raster/flatOutlines.ts";
import { findOutlines, takeOutlinesOut } from "../../src/raster/outlines.ts";
import { makePlane, type Plane } from "../../src/raster/picture.ts";

const RANGE = { least: 8, most: 40 };
const [WIDTH, HEIGHT] = [200, 160];

interface Drawn {
  readonly x: number;
  readonly y: number;
  readonly across: number;
  readonly up: number;
}

/** A plane of slight noise with spots, and pencil drawn round them. */
function planeOf(spots: readonly (Drawn & { readonly height: number })[], rings: readonly Drawn[]): Plane {
  const plane = makePlane(WIDTH, HEIGHT);
  let seed = 7;
  for (let y = 0; y < HEIGHT; y++)
    for (let x = 0; x < WIDTH; x++) {
      seed = (seed * 1103515245 + 12345) % 2147483648;
      let value = 0.006 * (seed / 2147483648 - 0.5);
      for (const s of spots)
        value += s.height * Math.exp(-(((x - s.x) / s.across) ** 2) / 2 - ((y - s.y) / s.up) ** 2 / 2);
      for (const { x: u, y: v, across, up } of rings) {
        const off = (Math.hypot((x - u) / across, (y - v) / up) - 1) * Math.sqrt(across * up);
        value += 0.15 * Math.exp(-(off ** 2) / 2);
      }
      plane.data[y * WIDTH + x] = value;
    }
  return plane;
}

describe("closed thin lines", () => {
  const spot = { x: 60, y: 70, across: 8, up: 10, height: 0.3 };
  const ring = { x: 61, y: 69, across: 17, up: 22 };

  it("are found round a spot where a pencil drew them, though it is no true circle", () => {
    const [found, ...more] = findOutlines(planeOf([spot], [ring]), RANGE);
    expect(more).toEqual([]);
    expect(Math.hypot(found.x - ring.x, found.y - ring.y)).toBeLessThan(2);
    // directions 0, 12 (down), 24, 36: right, down, left, up
    const along = [0, 12, 24, 36].map((k) => found.radii[k]);
    for (const [k, axis] of [ring.across, ring.up, ring.across, ring.up].entries())
      expect(Math.abs(along[k] - axis)).toBeLessThan(2.5);
  });

  it("are none where spots stand alone, close together, or a line is straight", () => {
    expect(findOutlines(planeOf([spot, { ...spot, x: 84, height: 0.15 }], []), RANGE)).toEqual([]);
    const line = planeOf([spot], []);
    for (let x = 0; x < WIDTH; x++) for (const y of [120, 121]) line.data[y * WIDTH + x] += 0.2;
    expect(findOutlines(line, RANGE)).toEqual([]);
  });

  it("are found where they are flat, in a picture of half the width, and leave the band within", () => {
    const band = { x: 90, y: 70, across: 14, up: 4, height: 0.2 };
    const flat = { x: 91, y: 69, across: 36, up: 15 };
    const plane = planeOf([band], [flat]);
    expect(findOutlines(plane, RANGE)).toEqual([]);
    const [found, ...more] = findFlatOutlines(plane, RANGE);
    expect(more).toEqual([]);
    expect(Math.hypot(found.x - flat.x, found.y - flat.y)).toBeLessThan(2);
    takeOutlinesOut(plane, [found]);
    const bare = planeOf([band], []);
    const off = (x: number, y: number) => Math.abs(plane.data[y * WIDTH + x] - bare.data[y * WIDTH + x]);
    for (const [x, y] of [
      [127, 69],
      [55, 69],
      [91, 84],
      [91, 54],
      [90, 70],
    ])
      expect(off(x, y)).toBeLessThan(0.03);
  });

  it("are not made of bands side by side, of their edges or of a line", () => {
    const bands = [40, 80, 120, 160].map((x) => ({ x, y: 70, across: 13, up: 4, height: 0.3 }));
    const plane = planeOf(bands, []);
    for (let x = 0; x < WIDTH; x++) for (const y of [120, 121]) plane.data[y * WIDTH + x] += 0.2;
    expect(findFlatOutlines(plane, RANGE)).toEqual([]);
  });

  it("leave the spot within when they are taken out", () => {
    const plane = planeOf([spot], [ring]);
    takeOutlinesOut(plane, findOutlines(plane, RANGE));
    const bare = planeOf([spot], []);
    let worst = 0;
    for (let i = 0; i < bare.data.length; i++) worst = Math.max(worst, Math.abs(plane.data[i] - bare.data[i]));
    expect(worst).toBeLessThan(0.05);
    expect(plane.data[spot.y * WIDTH + spot.x]).toBe(planeOf([spot], [ring]).data[spot.y * WIDTH + spot.x]);
  });

  it("are found where two touch", () => {
    const other = { ...ring, x: ring.x + 2 * ring.across };
    expect(findOutlines(planeOf([spot, { ...spot, x: other.x }], [ring, other]), RANGE)).toHaveLength(2);
  });

  it("are found, and mostly taken out, where they are blurred and hardly rise above the noise", () => {
    const random = seededRandom(3);
    const noise = Float32Array.from({ length: WIDTH * HEIGHT }, () => 0.02 * normalDeviate(random));
    const faint = planeOf([spot], [ring]);
    const bare = planeOf([spot], []);
    for (let i = 0; i < faint.data.length; i++) faint.data[i] = bare.data[i] + 2 * (faint.data[i] - bare.data[i]);
    const drawn = boxBlur(boxBlur(faint, 2, 2), 1, 1);
    const noisy = { ...drawn, data: drawn.data.map((v, i) => v + noise[i]) };
    const found = findOutlines(noisy, RANGE);
    expect(found).toHaveLength(1);
    const alone = boxBlur(boxBlur(bare, 2, 2), 1, 1);
    const pencil = () => drawn.data.reduce((sum, v, i) => sum + Math.max(0, v - alone.data[i]), 0);
    const before = pencil();
    takeOutlinesOut(drawn, found);
    expect(pencil()).toBeLessThan(0.5 * before);
  });
});
