import { describe, expect, it } from "vitest";
import type { LinePlace } from "../../../src/model/index.ts";
import { linesTogether, type PlateShown } from "../../../src/plate/together/index.ts";

const at = (y: number, probability = 1): LinePlace => ({ y, sd: 0, probability });
const unseen = (y: number, sd: number, probability: number): LinePlace => ({ y, sd, probability });

/** Components at these Rf, the upper ones in earlier tubes. */
const RF = [0.72, 0.48, 0.25];
const holds = (tube: number) => RF.filter((_, k) => Math.abs(tube - (4 + 6 * k)) <= 4);

/** A plate of some tubes whose true lines are known, as it shows them. */
function plate(
  tubes: readonly number[],
  trueLines: { origin: number; front: number },
  shown: Partial<PlateShown> = {},
): PlateShown {
  const { origin, front } = trueLines;
  return {
    places: { origin: [at(origin)], front: [at(front)] },
    ...{ origin, front, originGiven: false, frontGiven: false },
    spots: tubes.flatMap((tube) =>
      holds(tube).map((rf) => {
        const y = origin - rf * (origin - front);
        return { fromOrigin: y, fromFront: y, tube, label: String(tube), confidence: 0.95 };
      }),
    ),
    ...shown,
  };
}

const FIRST = plate([1, 2, 3, 4, 5, 6], { origin: 0.86, front: 0.1 });
const TRUE_LINES = { origin: 0.8, front: 0.15 };
const NEXT = [7, 8, 9, 10, 11, 12];

describe("the lines of a plate beside those of the others", () => {
  it("leaves a plate as it shows itself where that is clear", () => {
    const clear = plate(NEXT, { origin: 0.84, front: 0.12 });
    expect(linesTogether([FIRST, clear]).map(({ origin, front }) => [origin, front])).toEqual([
      [0.86, 0.1],
      [0.84, 0.12],
    ]);
  });

  it("takes the less likely of two lines where the spots of the other plates run on from there", () => {
    const places = { origin: [at(0.72, 0.6), at(TRUE_LINES.origin, 0.4)], front: [at(TRUE_LINES.front)] };
    const [, laid] = linesTogether([FIRST, plate(NEXT, TRUE_LINES, { places, origin: 0.72 })]);
    expect(laid.origin).toBeCloseTo(TRUE_LINES.origin, 3);
    expect(laid.sure).toBeGreaterThan(0.9);
  });

  it("finds an origin that nothing shows to within a hundredth of the plate", () => {
    const places = { origin: [unseen(0.845, 0.05, 1)], front: [at(TRUE_LINES.front)] };
    const [, laid] = linesTogether([FIRST, plate(NEXT, TRUE_LINES, { places, origin: 0.845 })]);
    expect(Math.abs(laid.origin - TRUE_LINES.origin)).toBeLessThan(0.01);
  });

  it("tells a front that ran off the plate from one that was thought seen", () => {
    const ranOff = { origin: 0.85, front: 0 };
    const places = { origin: [at(0.85)], front: [at(0.13, 0.8), at(0, 0.2)] };
    const [, laid] = linesTogether([FIRST, plate(NEXT, ranOff, { places, front: 0.13 })]);
    expect(laid.front).toBeCloseTo(0, 3);
  });

  it("never moves a line that a person gave", () => {
    const places = { origin: [at(TRUE_LINES.origin, 0.9), at(0.72, 0.1)], front: [at(TRUE_LINES.front)] };
    const given = plate(NEXT, TRUE_LINES, { places, origin: 0.72, originGiven: true });
    expect(linesTogether([FIRST, given])[1].origin).toBe(0.72);
  });

  it("leaves a plate without spots, and one that is alone, as they are", () => {
    const places = { origin: [unseen(0.845, 0.05, 1)], front: [at(0.1)] };
    const bare = { ...plate(NEXT, TRUE_LINES, { places, origin: 0.845, front: 0.1 }), spots: [] };
    for (const laid of [linesTogether([FIRST, bare])[1], linesTogether([bare])[0]])
      expect([laid.origin, laid.front]).toEqual([0.845, 0.1]);
  });

  it("keeps a start line that shows, although its rows of spots would fall onto those of other substances", () => {
    const rows = (tubes: readonly number[], heights: readonly number[]) =>
      tubes.flatMap((tube) =>
        heights.map((y) => ({ fromOrigin: y, fromFront: y, tube, label: String(tube), confidence: 0.95 })),
      );
    const lines = { origin: 0.88, front: 0.1 };
    const next = { ...plate([], lines), spots: rows([9, 10, 11, 12, 13, 14, 15, 16], [0.49, 0.57]) };
    // From a start line at 0.63 and a front at the edge its rows would stand where the next plate has its own.
    const fronts = [at(0, 0.55), unseen(0.12, 0.03, 0.45)];
    const places = { origin: [at(0.88, 0.9998), at(0.65, 0.0002)], front: fronts };
    const first = { ...plate([], lines, { places }), spots: rows([1, 2, 3, 4, 5, 6, 7, 8], [0.325, 0.394]) };
    const [laid] = linesTogether([first, next]);
    expect(laid.origin).toBeCloseTo(0.88, 3);
  });

  it("does not follow a plate whose own lines are in doubt against one's own that are nearly clear", () => {
    const wrong = { ...FIRST, places: { origin: [at(0.86, 0.5), at(0.78, 0.5)], front: [at(0.1)] }, origin: 0.78 };
    const places = { origin: [at(TRUE_LINES.origin, 0.9), at(0.72, 0.1)], front: [at(TRUE_LINES.front)] };
    const [first, own] = linesTogether([wrong, plate(NEXT, TRUE_LINES, { places })]);
    expect(own.origin).toBeCloseTo(TRUE_LINES.origin, 3);
    expect(first.origin).toBeCloseTo(0.86, 3);
  });
});
