import { describe, expect, it } from "vitest";
import { figureMarks, figuresUpright } from "../../../src/plate/upright/figures.ts";
import { namesRead } from "../../../src/plate/upright/names.ts";
import { quarterTurn } from "../../../src/plate/upright/signs.ts";
import { FIGURES, written } from "./drawnFigures.ts";

const CROSS = ["#   #", " # # ", "  #  ", " # # ", "#   #"];
const all = [3, 4, 7, 2].map((figure) => FIGURES[figure]);
const lanes = (...fractions: number[]) => fractions.map((fraction) => ({ label: String(fraction), fraction }));

describe("figures on a plate", () => {
  it("are read for the way they stand", () => {
    let signs = written(all);
    for (const stands of [0, 3, 2, 1]) {
      const odds = figuresUpright(figureMarks(signs, false));
      expect(odds.indexOf(Math.max(...odds))).toBe(stands);
      const others = odds.filter((_, turn) => turn !== stands);
      // Tenths of a logarithm: twenty times likelier than any other way.
      expect(odds[stands] - Math.max(...others)).toBeGreaterThan(0.3);
      signs = quarterTurn(signs);
    }
  });

  it("that fall apart are one mark where strokes beside each other are joined", () => {
    const broken = FIGURES[3].map((row, y) => (y === 2 || y === 4 ? "     " : row));
    const [apart, joined] = [false, true].map((join) => figureMarks(written([broken]), join).length);
    expect(apart).toBeGreaterThan(1);
    expect(joined).toBe(1);
  });

  it("tell nothing where only crosses, or nothing, is drawn", () => {
    expect(figuresUpright(figureMarks(written([]), false))).toEqual([0, 0, 0, 0]);
    const odds = figuresUpright(figureMarks(written([CROSS, CROSS, CROSS, CROSS]), false));
    expect(Math.max(...odds) - Math.min(...odds)).toBeLessThan(0.2);
  });
});

describe("names of lanes", () => {
  const marks = figureMarks(written(all), false);

  it("are read where and as they stand: below the origin, from left to right", () => {
    const { foot, head } = namesRead(marks, 0, lanes(3, 4, 7, 2));
    expect(foot).toBeGreaterThan(0.6);
    expect(head).toBe(0);
    for (const turn of [1, 2, 3]) {
      const turned = namesRead(marks, turn, lanes(3, 4, 7, 2));
      expect(Math.max(turned.foot, turned.head)).toBeLessThan(foot / 2);
    }
  });

  it("are worth less where the figures are others, or stand the other way round", () => {
    const { foot } = namesRead(marks, 0, lanes(3, 4, 7, 2));
    expect(namesRead(marks, 0, lanes(2, 7, 4, 3)).foot).toBeLessThan(foot / 2);
    expect(namesRead(marks, 0, lanes(8, 9, 0, 1)).foot).toBeLessThan(foot / 2);
  });

  it("may have several figures, and some may be missing", () => {
    const two = figureMarks(written([FIGURES[2], FIGURES[3], FIGURES[2], FIGURES[4]]), false);
    const { foot } = namesRead(two, 0, lanes(23, 24));
    expect(foot).toBeGreaterThan(namesRead(two, 0, lanes(32, 42)).foot);
    expect(namesRead(marks, 0, lanes(3, 5, 7, 9)).foot).toBeGreaterThan(0);
    expect(namesRead([], 0, lanes(3, 4)).foot).toBe(0);
  });
});
