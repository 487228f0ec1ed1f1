import { describe, expect, it } from "vitest";
import { countLanes } from "../../../src/plate/lanes/count.ts";
import { laneSigns } from "../../../src/plate/lanes/signs.ts";

const WIDTH = 500;
/** A sign in each of these lanes of a lattice that begins at 60 and goes on in steps of 50. */
const at = (...lanes: number[]) => lanes.map((k) => ({ x: 60 + 50 * k, weight: 1 }));
const none = { spots: [], rows: [] };

describe("lanes counted by what they show", () => {
  it("are as many as there are signs, evenly spaced", () => {
    const found = countLanes({ spots: at(0, 1, 2, 3, 4, 5), rows: [] }, WIDTH, null)!;
    expect(found.count).toBe(6);
    expect(found.first).toBeCloseTo(60, -1);
    expect(found.pitch).toBeCloseTo(50, 0);
  });

  it("go on under lanes that show nothing in the middle", () => {
    expect(countLanes({ spots: at(0, 1, 2, 5, 6), rows: [] }, WIDTH, null)?.count).toBe(7);
  });

  it("end with the outermost that shows something, however wide the margin", () => {
    expect(countLanes({ spots: at(2, 3, 4, 5), rows: [] }, WIDTH, null)?.count).toBe(4);
  });

  it("reach to a lane that pencil alone marks", () => {
    const row = [0, 1, 2, 3, 4, 5].map((k) => ({ x: 60 + 50 * k, weight: 0.6 }));
    expect(countLanes({ spots: at(0, 1, 3), rows: [row] }, WIDTH, null)?.count).toBe(6);
  });

  it("do not follow marks that fit no lattice", () => {
    const scratches = [33, 171, 197, 214, 260, 391, 418].map((x) => ({ x, weight: 0.6 }));
    expect(countLanes({ spots: at(0, 1, 2, 3, 4), rows: [scratches] }, WIDTH, null)?.count).toBe(5);
  });

  it("are the number told, laid over the signs", () => {
    const found = countLanes({ spots: at(1, 2, 4), rows: [] }, WIDTH, 6)!;
    expect(found.count).toBe(6);
    const places = Array.from({ length: 6 }, (_, i) => found.first + i * found.pitch);
    for (const { x } of at(1, 2, 4)) expect(Math.min(...places.map((p) => Math.abs(p - x)))).toBeLessThan(6);
  });

  it("cannot be told from nothing", () => {
    expect(countLanes(none, WIDTH, null)).toBeNull();
    expect(countLanes(none, WIDTH, 5)).toBeNull();
  });
});

describe("signs of lanes", () => {
  const bump = (x: number, height: number) => (_: number, i: number) => height * Math.exp(-0.5 * ((i - x) / 6) ** 2);
  const columns = (...bumps: [number, number][]) =>
    Float64Array.from({ length: WIDTH }, (_, i) => bumps.reduce((sum, [x, h]) => sum + bump(x, h)(0, i), 0));

  it("are columns of spots, a strong one little more than a weak one", () => {
    const { spots } = laneSigns(columns([100, 300], [200, 40], [300, 40]), [], []);
    expect(spots.map((s) => Math.round(s.x / 10))).toEqual([10, 20, 30]);
    expect(Math.max(...spots.map((s) => s.weight)) / Math.min(...spots.map((s) => s.weight))).toBeLessThan(1.5);
  });

  it("weigh less at the plate's edge, where chips look like spots", () => {
    const { spots } = laneSigns(columns([8, 40], [200, 40], [300, 40]), [], []);
    expect(spots[0].weight).toBeLessThan(0.5 * spots[1].weight);
  });
});
