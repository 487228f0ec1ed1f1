import { describe, expect, it } from "vitest";
import { density } from "../../../src/plate/density/index.ts";
import { blobsIn, spotRises } from "../../../src/plate/lanes/blobs.ts";
import { isBrokenLine } from "../../../src/plate/lanes/dashes.ts";
import { pool } from "../../../src/plate/lanes/pool.ts";
import { laneSigns } from "../../../src/plate/lanes/signs.ts";
import { spotOdds } from "../../../src/plate/lanes/spotOdds.ts";
import { findMarks } from "../../../src/plate/marks/index.ts";
import type { MarkRow } from "../../../src/plate/view.ts";
import type { Patch } from "../../../src/raster/components.ts";
import { type DrawnSpot, drawPlate, heightAt, lampAside, lineAcross, tick } from "../density/drawnPlate.ts";

const ORIGIN = 0.87;
const FRONT = 0.1;
const line = (y: number) => ({ y, tilt: 0, bow: 0, source: "found" as const, sd: 0.001 });
const spot = (u: number, rf: number, d: number): DrawnSpot => ({
  u,
  v: heightAt(rf, ORIGIN, FRONT),
  sigmaU: 0.016,
  sigmaV: 0.016,
  strength: [0.5 * d, d, 0.8 * d],
});

describe("blobs", () => {
  const map = density(
    drawPlate({ lamp: lampAside, spots: [spot(0.3, 0.5, 0.4), spot(0.6, 0.5, 0.05)], strokes: [], seed: 3 }),
  );
  const blobs = blobsIn(spotRises([map]), Math.round(0.15 * map.height), Math.round(0.8 * map.height));
  const near = (u: number) => blobs.find((b) => Math.abs(b.x / map.width - u) < 0.01);

  it("stand where spots do, faint ones too", () => {
    expect(near(0.3)!.y / map.height).toBeCloseTo(heightAt(0.5, ORIGIN, FRONT), 2);
    expect(near(0.6)!.y / map.height).toBeCloseTo(heightAt(0.5, ORIGIN, FRONT), 2);
    expect(near(0.3)!.z).toBeGreaterThan(near(0.6)!.z);
  });

  it("are as wide as the spots are at half their height", () => {
    expect(Math.abs(near(0.3)!.width / map.width / (2.355 * 0.016) - 1)).toBeLessThan(0.25);
  });

  it("are none in so few rows that nothing has a top", () => {
    expect(blobsIn(spotRises([map]), 50, 51)).toEqual([]);
  });
});

describe("how likely a blob is a spot", () => {
  const clear = { x: 200, y: 200, z: 60, width: 20 };
  const odds = (x: number, y: number, z = 8) =>
    spotOdds([clear, { x, y, z, width: 18 }], 500, (row) => 1 - row / 500)[1];

  it("rises where it stands level with a clear one some way aside", () => {
    expect(1 - odds(280, 200)).toBeLessThan(0.1 * (1 - odds(280, 260)));
  });

  it("falls by the edge and by the front, and rises with its height", () => {
    expect(odds(4, 200)).toBeLessThan(0.1 * odds(280, 200));
    expect(odds(280, 10, 30)).toBeLessThan(odds(280, 260, 30));
    expect(odds(280, 260, 30)).toBeGreaterThan(odds(280, 260));
  });

  it("falls close beside a far higher one, whose rim is no spot", () => {
    expect(odds(clear.x + 20, 229, 4)).toBeLessThan(0.5 * odds(clear.x + 80, 229, 4));
    expect(odds(clear.x + 20, 229, 15)).toBeCloseTo(odds(clear.x + 80, 229, 15), 5);
  });

  it("is small where it is a narrow ripple level with one that outshines it by far", () => {
    const glaring = { ...clear, z: 1500 };
    const beside = (width: number, z: number, x = clear.x + 40) =>
      spotOdds([glaring, { x, y: 202, z, width }], 500, (row) => 1 - row / 500)[1];
    expect(beside(6, 8)).toBeLessThan(0.1);
    // as wide as a spot, not so much fainter, or a lane farther off it may be one
    expect(beside(18, 8)).toBeGreaterThan(10 * beside(6, 8));
    expect(beside(6, 80)).toBeGreaterThan(10 * beside(6, 8));
    expect(beside(6, 8, clear.x + 80)).toBeGreaterThan(10 * beside(6, 8));
  });
});

describe("what is next to nothing beside the clearest spots", () => {
  const midway = (clearest: number) => {
    const clear = [100, 200, 300].map((x) => ({ x, y: 260, z: clearest, width: 40 }));
    return spotOdds([...clear, { x: 150, y: 200, z: 10, width: 12 }], 500, (row) => 1 - row / 500)[3];
  };

  it("is a spot less likely", () => {
    const oddsOf = (p: number) => p / (1 - p);
    expect(oddsOf(midway(5000))).toBeLessThan(0.1 * oddsOf(midway(1000)));
    expect(midway(1000)).toBeCloseTo(midway(500), 5);
  });
});

describe("a row of marks", () => {
  const marks = (...xs: number[]) => xs.map((x0) => ({ x0, x1: x0 + 30, y0: 0, y1: 4 }) as Patch);
  const row = (step: number, n: number): MarkRow => ({
    marks: marks(...Array.from({ length: n }, (_, k) => 20 + step * k)),
    y: 100,
    tilt: 0,
    size: 5,
    alike: true,
  });

  it("is a broken line where its marks cover most of it and are many", () => {
    expect(isBrokenLine(row(38, 11))).toBe(true);
    expect(isBrokenLine(row(55, 8))).toBe(false);
    expect(isBrokenLine(row(38, 6))).toBe(false);
  });
});

describe("signs at one place", () => {
  it("are one, surer than each but never sure", () => {
    const [joined, ...others] = pool(
      [100, 101, 102].map((x) => ({ x, weight: 0.6 })),
      500,
      4,
    );
    expect(others).toEqual([]);
    expect(joined.x).toBeCloseTo(101, 5);
    expect(joined.weight).toBeGreaterThan(0.7);
    expect(joined.weight).toBeLessThan(1 - 0.4 ** 3);
  });

  it("stay apart where they stand apart", () => {
    expect(
      pool(
        [100, 140].map((x) => ({ x, weight: 0.6 })),
        500,
        4,
      ).map((s) => Math.round(s.x)),
    ).toEqual([100, 140]);
  });
});

describe("signs of lanes", () => {
  const xs = [0.15, 0.3, 0.45, 0.6, 0.75];
  const map = density(
    drawPlate({
      lamp: lampAside,
      spots: xs.slice(0, 4).map((u, i) => spot(u + 0.025 * 0.77 * 0.5, 0.5, 0.1 + 0.05 * i)),
      strokes: [lineAcross(FRONT), ...xs.map((u) => tick(u, ORIGIN, 0.022))],
      seed: 5,
    }),
  );
  const signs = laneSigns([map], findMarks(map), [], { origin: line(ORIGIN), front: line(FRONT) });
  const places = (list: readonly { readonly x: number; readonly weight: number }[]) =>
    list.filter((s) => s.weight > 0.5).map((s) => s.x / map.width);

  it("are the marks on the origin line, each once", () => {
    const found = places(signs.line);
    expect(found).toHaveLength(xs.length);
    xs.forEach((x, i) => {
      expect(found[i]).toBeCloseTo(x, 2);
    });
  });

  it("are the columns of spots, set back to the origin by the lean", () => {
    const lean = (0.025 * map.width) / map.height;
    const found = places(signs.spots(lean));
    expect(found).toHaveLength(4);
    found.forEach((u, i) => {
      expect(Math.abs(u - xs[i])).toBeLessThan(0.005);
    });
  });
});
