import { describe, expect, it } from "vitest";
import { countLanes } from "../../../src/plate/lanes/count.ts";
import type { LaneSign } from "../../../src/plate/lanes/pool.ts";

const WIDTH = 500;
const HEIGHT = 500;
/** A clear sign in each of these lanes of a lattice that begins at 60 and goes on in steps of 40. */
const at = (...lanes: number[]): LaneSign[] => lanes.map((k) => ({ x: 60 + 40 * k, weight: 0.95 }));
const all = (count: number) => Array.from({ length: count }, (_, k) => k);

interface Seen {
  readonly spots?: readonly LaneSign[];
  readonly line?: readonly LaneSign[];
  readonly foot?: readonly LaneSign[];
  readonly head?: readonly LaneSign[];
  readonly spotWidth?: number;
}
function count(seen: Seen, told: number | null = null, width = WIDTH) {
  const { spots = [], line = [], foot = [], head = [], spotWidth = 0 } = seen;
  return countLanes({ spots: () => spots, line, foot, head, spotWidth }, width, HEIGHT, told);
}

describe("lanes counted by what they show", () => {
  it("are as many as there are signs, evenly spaced", () => {
    const found = count({ spots: at(...all(10)) });
    expect(found?.count).toBe(10);
    expect(found?.first).toBeCloseTo(60, -1);
    expect(found?.pitch).toBeCloseTo(40, 0);
  });

  it("go on under lanes that show nothing in the middle", () => {
    expect(count({ spots: at(0, 1, 2, 3, 6, 7, 8, 9) })?.count).toBe(10);
  });

  it("reach to a lane that pencil alone marks, on the line or below it", () => {
    expect(count({ spots: at(0, 1, 3, 4), line: at(...all(10)) })?.count).toBe(10);
    expect(count({ spots: at(0, 1, 3, 4), foot: at(...all(10)) })?.count).toBe(10);
  });

  it("go on to the side where the margin would be far wider than the other", () => {
    const found = count({ spots: at(2, 3, 4, 5, 6, 7, 8, 9) }, null, 480);
    expect(found?.count).toBe(10);
    expect(found?.first).toBeLessThan(75);
  });

  it("end where the signs end if marks end there too, though there is room to spare on one side", () => {
    expect(count({ spots: at(...all(9)), line: at(...all(9)) }, null, 485)?.count).toBe(9);
  });

  it("go on where spots alone end and the margins would be unlike, on either side", () => {
    const mirrored = at(...all(9)).map((sign) => ({ ...sign, x: 485 - sign.x }));
    expect(count({ spots: at(...all(9)) }, null, 485)?.count).toBe(10);
    expect(count({ spots: mirrored }, null, 485)?.count).toBe(10);
  });

  it("stand where their marks do, if they are many and told, though half of a wide plate is empty", () => {
    const figures = Array.from({ length: 19 }, (_, k) => ({ x: 34 + 23 * k, weight: 0.9 }));
    const spots = [3, 4, 6, 7, 10, 14, 15].map((k) => ({ x: 34 + 23 * k, weight: 0.9 }));
    const found = countLanes({ spots: () => spots, line: [], foot: figures, head: [], spotWidth: 10 }, 808, 409, 19);
    expect(found?.first).toBeCloseTo(34, -1);
    expect(found?.pitch).toBeCloseTo(23, 0);
  });

  it("do not fill a plate of which they take up a small part in the middle", () => {
    const middle = Array.from({ length: 8 }, (_, k) => ({ x: 150 + 28 * k, weight: 0.95 }));
    expect(count({ spots: middle })?.count).toBe(8);
  });

  it("end where the marks end, though more lanes would find room", () => {
    expect(count({ spots: at(...all(8)), line: at(...all(8)) })?.count).toBe(8);
  });

  it("are not doubled by a stray sign midway", () => {
    expect(count({ spots: [...at(...all(10)), { x: 160, weight: 0.9 }] })?.count).toBe(10);
  });

  it("do not follow marks that fit no lattice", () => {
    const scratches = [33, 171, 197, 214, 268, 391, 418].map((x) => ({ x, weight: 0.65 }));
    expect(count({ spots: at(...all(10)), foot: scratches })?.count).toBe(10);
  });

  it("stand under the numbers above the front, where they are numbered there", () => {
    const spots = at(4, 5);
    const numbers = at(1, 2, 3, 4, 5, 6, 7, 8);
    expect(count({ spots }, 8)?.first).not.toBeCloseTo(100, -1);
    expect(count({ spots, head: numbers }, 8)?.first).toBeCloseTo(100, -1);
  });

  it("are taken wide rather than nearer to each other than hands set them", () => {
    const spots = [100, 150, 200].map((x) => ({ x, weight: 0.95 }));
    const strays = [125, 176].map((x) => ({ x, weight: 0.6 }));
    expect(
      countLanes({ spots: () => [...spots, ...strays], line: [], foot: [], head: [], spotWidth: 0 }, 300, 1100, null)
        ?.count,
    ).toBe(3);
  });

  it("are not laid so tight that their spots would touch", () => {
    const strays = at(2.5, 5.5, 7.5);
    const spots = [...at(...all(10)), ...strays];
    expect(count({ spots })?.count).toBeGreaterThan(15);
    expect(count({ spots, spotWidth: 20 })?.count).toBe(10);
  });

  it("lean the way in which their spots stand above one another", () => {
    const spots = (lean: number) =>
      lean === 0.025 ? at(...all(10)) : [70, 133, 171, 245, 262, 333].map((x) => ({ x, weight: 0.9 }));
    expect(countLanes({ spots, line: [], foot: [], head: [], spotWidth: 0 }, WIDTH, HEIGHT, null)?.lean).toBe(0.025);
  });

  it("cannot be told from nothing", () => {
    expect(count({})).toBeNull();
    expect(count({}, 5)).toBeNull();
  });
});

describe("lanes in the number told", () => {
  const lanesOf = (found: ReturnType<typeof count>) => all(found!.count).map((k) => found!.first + k * found!.pitch);

  it("pass through the signs", () => {
    const lanes = lanesOf(count({ spots: at(1, 2, 4, 5, 7) }, 10));
    expect(lanes).toHaveLength(10);
    for (const { x } of at(1, 2, 4, 5, 7)) expect(Math.min(...lanes.map((l) => Math.abs(l - x)))).toBeLessThan(8);
  });

  it("are not laid one pitch aside where the first shows but a faint spot and the last nothing", () => {
    const faint = { x: 60, weight: 0.4 };
    expect(lanesOf(count({ spots: [faint, ...at(1, 2, 3, 4, 5, 6, 7, 8)] }, 10))[0]).toBeCloseTo(60, -1);
  });

  it("lie about centred where nothing else tells", () => {
    expect(lanesOf(count({ spots: at(2, 3, 4, 5, 6, 7) }, 10))[0]).toBeCloseTo(60, -1);
  });
});
