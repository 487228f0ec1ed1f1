import { describe, expect, it } from "vitest";
import { seededRandom } from "../../../src/math/random.ts";
import { density } from "../../../src/plate/density/index.ts";
import { type FoundLanes, findLanes } from "../../../src/plate/lanes/index.ts";
import { findMarks } from "../../../src/plate/marks/index.ts";
import {
  type DrawnSpot,
  type DrawnStroke,
  drawPlate,
  heightAt,
  lampAside,
  lineAcross,
  tick,
} from "../density/drawnPlate.ts";

const ORIGIN = 0.87;
const FRONT = 0.1;
const line = (y: number) => ({ y, tilt: 0, bow: 0, source: "found" as const, sd: 0.001 });

interface Drawing {
  readonly count: number;
  /** Lanes without any spot, from 0. */
  readonly empty?: readonly number[];
  /** How far hands set a lane off, in pitches. */
  readonly unsteady?: number;
  /** Sideways way of each lane over the way up, plate fractions. */
  readonly drift?: number;
  /** Ticks for the origin: alone, or across a pencil line. */
  readonly ticks?: "alone" | "across a line";
  readonly seed?: number;
}

/** Lanes with one to three spots each, 0.7 pitches left free at both sides. */
function drawn({ count, empty = [], unsteady = 0, drift = 0, ticks, seed = 1 }: Drawing) {
  const random = seededRandom(seed);
  const pitch = 1 / (count + 0.4);
  const x = Array.from({ length: count }, (_, i) => (i + 0.7 + unsteady * (2 * random() - 1)) * pitch);
  const spots = x.flatMap((u, i): DrawnSpot[] => {
    if (empty.includes(i)) return [];
    return Array.from({ length: 1 + Math.floor(3 * random()) }, () => {
      const v = heightAt(0.15 + 0.6 * random(), ORIGIN, FRONT);
      const d = 0.04 + 0.3 * random();
      return {
        u: u + drift * (ORIGIN - v),
        v,
        sigmaU: 0.17 * pitch,
        sigmaV: 0.016,
        strength: [0.5 * d, d, 0.8 * d] as const,
      };
    });
  });
  const strokes: DrawnStroke[] = [
    lineAcross(FRONT),
    ...(ticks ? x.map((u) => tick(u, ORIGIN, ticks === "alone" ? 0.022 : 0.05)) : []),
    ...(ticks === "alone" ? [] : [lineAcross(ORIGIN)]),
  ];
  const map = density(drawPlate({ lamp: lampAside, spots, strokes, seed }));
  return { x, pitch, map, marks: findMarks(map) };
}

function lanesOf({ map, marks }: ReturnType<typeof drawn>, count: number | null): FoundLanes {
  return findLanes([map], [marks], { count, origin: line(ORIGIN), front: line(FRONT) });
}

/** Largest distance of a lane from where it was drawn, in pitches. */
function worstOffset({ x, pitch }: ReturnType<typeof drawn>, found: FoundLanes): number {
  expect(found.tracks).toHaveLength(x.length);
  return Math.max(...x.map((u, i) => Math.abs(found.tracks[i].x - u) / pitch));
}

describe("lanes of a known number", () => {
  it.each([3, 5, 8, 12, 16])("%i of them lie within a tenth of a pitch of where they were drawn", (count) => {
    const plate = drawn({ count, seed: count });
    const found = lanesOf(plate, count);
    expect(worstOffset(plate, found)).toBeLessThan(0.1);
    expect(Math.abs(found.pitch / plate.pitch - 1)).toBeLessThan(0.1);
  });

  it.each([
    ["in the middle", [4]],
    ["two neighbours", [3, 4]],
    ["at the left", [0]],
    ["at the right", [7]],
  ])("empty lanes count: %s", (_, empty) => {
    const plate = drawn({ count: 8, empty, seed: 2 });
    expect(worstOffset(plate, lanesOf(plate, 8))).toBeLessThan(0.2);
  });

  it("follow an unsteady hand", () => {
    const plate = drawn({ count: 9, unsteady: 0.1, seed: 3 });
    expect(worstOffset(plate, lanesOf(plate, 9))).toBeLessThan(0.1);
  });

  it("lean as their spots do", () => {
    const plate = drawn({ count: 8, drift: 0.06, seed: 4 });
    const found = lanesOf(plate, 8);
    const halfWay = 0.5 * (ORIGIN - FRONT);
    plate.x.forEach((u, i) => {
      const { x, drift } = found.tracks[i];
      expect(drift).toBeGreaterThan(0.025);
      expect(Math.abs(x + drift * halfWay - u - 0.06 * halfWay) / plate.pitch).toBeLessThan(0.12);
    });
  });

  it("stand upright where spots stand above one another", () => {
    const plate = drawn({ count: 8, seed: 5 });
    for (const { drift } of lanesOf(plate, 8).tracks) expect(Math.abs(drift)).toBeLessThan(0.025);
  });

  it("of one lane: it runs through its spots", () => {
    const plate = drawn({ count: 1, seed: 6 });
    expect(Math.abs(lanesOf(plate, 1).tracks[0].x - plate.x[0])).toBeLessThan(0.05);
  });

  it("are kept on a plate without a spot, evenly spaced", () => {
    const { tracks, pitch } = lanesOf(drawn({ count: 6, empty: [0, 1, 2, 3, 4, 5] }), 6);
    tracks.slice(1).forEach((t, i) => {
      expect(Math.abs((t.x - tracks[i].x) / pitch - 1)).toBeLessThan(0.15);
    });
  });

  it("are mostly counted anew where the plate plainly holds another number, and never end in a third one", () => {
    const counts = [5, 7, 9].map((seed) => lanesOf(drawn({ count: 8, seed }), 10).tracks.length);
    for (const count of counts) expect([8, 10]).toContain(count);
    expect(counts.filter((count) => count === 8).length).toBeGreaterThanOrEqual(2);
  });

  it("stay in the number told where every other one may simply be empty", () => {
    expect(lanesOf(drawn({ count: 6, seed: 7 }), 11).tracks).toHaveLength(11);
  });
});

describe("lanes of unknown number", () => {
  it.each([4, 6, 9, 12])("are %i from their spots", (count) => {
    const plate = drawn({ count, seed: 20 + count });
    expect(worstOffset(plate, lanesOf(plate, null))).toBeLessThan(0.15);
  });

  it.each(["alone", "across a line"] as const)("are told by ticks where lanes are empty: ticks %s", (ticks) => {
    const plate = drawn({ count: 8, empty: [0, 3, 4, 7], ticks, seed: 31 });
    expect(worstOffset(plate, lanesOf(plate, null))).toBeLessThan(0.15);
  });
});

it("photos of one plate share their lanes: what one does not show the other does", () => {
  const all = drawn({ count: 7, seed: 41 });
  const first = drawn({ count: 7, empty: [4, 5, 6], seed: 41 });
  const second = drawn({ count: 7, empty: [0, 1, 2, 3], seed: 41 });
  const found = findLanes([first.map, second.map], [first.marks, second.marks], {
    count: 7,
    origin: line(ORIGIN),
    front: line(FRONT),
  });
  expect(worstOffset(all, found)).toBeLessThan(0.1);
});
