import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { acceptPools, moveTubes, presentDivision } from "../../../src/decisions/index.ts";
import type { DecidedPool } from "../../../src/model/index.ts";
import { boundaries, boundaryInWords, moveBoundary } from "../../../src/review/page/state/boundary.ts";
import { drawnResult } from "../../decisions/sampleRun.ts";

const result = drawnResult("AAAxxBBB..");
const tubes = result.fractions.map((f) => f.number);
const pools = presentDivision(result, null);

/** The pools as a row of their names. */
function drawn(division: readonly DecidedPool[]): string {
  return tubes.map((n) => division.find((p) => p.fractions.includes(n))?.name ?? "?").join("");
}

function endOf(left: string, division = pools) {
  return boundaries(tubes, division).find((b) => b.left === left)!;
}

describe("the ends of pools", () => {
  it("stand between neighbours, and reach as far as the two pools go", () => {
    expect(drawn(pools)).toBe("1112233344");
    expect(boundaries(tubes, pools)).toEqual([
      { at: 3, left: "1", right: "2", least: 0, most: 5 },
      { at: 5, left: "2", right: "3", least: 3, most: 8 },
      { at: 8, left: "3", right: "4", least: 5, most: 10 },
    ]);
  });

  it("are told in tubes", () => {
    expect(boundaryInWords(tubes, endOf("1"))).toBe("pool 1 ends with tube 3, pool 2 begins with tube 4");
  });
});

describe("a boundary that is moved", () => {
  it("gives tubes to the pool that it leaves behind", () => {
    expect(drawn(moveBoundary(result, tubes, pools, endOf("1"), 4))).toBe("1111233344");
    expect(drawn(moveBoundary(result, tubes, pools, endOf("2"), 4))).toBe("1112333344");
  });

  it("stays in its place where it is put back", () => {
    expect(moveBoundary(result, tubes, pools, endOf("1"), 3)).toBe(pools);
  });

  it("swallows a pool at its utmost, and goes no further", () => {
    expect(drawn(moveBoundary(result, tubes, pools, endOf("1"), 5))).toBe("1111133344");
    expect(drawn(moveBoundary(result, tubes, pools, endOf("1"), 9))).toBe("1111133344");
    expect(drawn(moveBoundary(result, tubes, pools, endOf("2"), 0))).toBe("1113333344");
  });

  it("leaves a tube that stands apart in its pool alone", () => {
    const apart = moveTubes(result, pools, [9], "1").pools;
    expect(drawn(apart)).toBe("1112233314");
    expect(drawn(moveBoundary(result, tubes, apart, endOf("1", apart), 4))).toBe("1111233314");
  });

  it("takes the yes of no pool away that it does not touch", () => {
    const accepted = acceptPools(result, pools, null).pools;
    const moved = moveBoundary(result, tubes, accepted, endOf("1", accepted), 4);
    expect(moved.filter((p) => p.name === "3" || p.name === "4").every((p) => p.accepted)).toBe(true);
  });

  it("never loses a tube or puts it into two pools, wherever it is dragged", () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(fc.nat(), fc.integer({ min: -3, max: 13 })), { maxLength: 12 }), (drags) => {
        let now = pools;
        for (const [which, to] of drags) {
          const ends = boundaries(tubes, now);
          if (ends.length === 0) break;
          now = moveBoundary(result, tubes, now, ends[which % ends.length], to);
          expect(now.flatMap((p) => p.fractions).sort((a, b) => a - b)).toEqual(tubes);
          expect(now.every((p) => p.fractions.length > 0)).toBe(true);
        }
      }),
    );
  });
});
