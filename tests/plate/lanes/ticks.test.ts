import { describe, expect, it } from "vitest";
import type { MigrationLine } from "../../../src/model/index.ts";
import { tickCentres, tickColumns } from "../../../src/plate/lanes/ticks.ts";
import type { SignalMap } from "../../../src/plate/view.ts";
import { makePlane } from "../../../src/raster/picture.ts";

const SIZE = { width: 400, height: 600 };
const ORIGIN: MigrationLine = { y: 0.85, tilt: 0, bow: 0, source: "found", sd: 0.001 };
const XS = [60, 120, 180, 240, 300, 360];

interface Drawing {
  readonly half?: number;
  readonly strays?: number;
  readonly reach?: number;
  readonly strength?: (tick: number) => number;
}

/** Strokes of a line that strays by so many rows, and of ticks that reach so many rows beyond its middle. */
function drawn({ half = 2, strays = 0, reach = 5, strength = () => 1 }: Drawing = {}): SignalMap {
  const strokes = makePlane(SIZE.width, SIZE.height);
  const line = ORIGIN.y * SIZE.height;
  const ink = (x: number, from: number, to: number, v: number) => {
    for (let y = Math.round(from); y <= to; y++) {
      const i = y * SIZE.width + x;
      strokes.data[i] = Math.max(strokes.data[i], v);
    }
  };
  for (let x = 20; x < 380; x++) {
    const middle = line + strays * Math.sin(x / 25);
    ink(x, middle - half, middle + half, 1);
  }
  for (const [i, x] of XS.entries()) for (let d = -2; d <= 2; d++) ink(x + d, line - reach, line + reach, strength(i));
  return { ...SIZE, strokes, strokeNoise: 0.02 } as SignalMap;
}

const ticks = (map: SignalMap) => tickCentres(tickColumns([map], ORIGIN), 3).map((x) => Math.round(x - 0.5));

describe("ticks that cross the origin line", () => {
  it("are found though they hardly reach beyond it", () => {
    expect(ticks(drawn())).toEqual(XS);
  });

  it("are found where the line is drawn by hand and strays from its curve", () => {
    expect(ticks(drawn({ strays: 3, reach: 9 }))).toEqual(XS);
  });

  it("are found where some are bolder than others, but not what is much fainter", () => {
    expect(ticks(drawn({ strength: (i) => (i % 2 === 0 ? 1 : 0.2) }))).toEqual(XS);
    expect(ticks(drawn({ strength: (i) => (i % 2 === 0 ? 1 : 0.06) }))).toEqual([60, 180, 300]);
  });

  it("are not seen in a thick line, nor in a line alone", () => {
    expect(ticks(drawn({ half: 6, reach: 0 }))).toEqual([]);
    expect(ticks(drawn({ strays: 4, reach: 0 }))).toEqual([]);
  });
});
