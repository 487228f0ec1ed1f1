import { describe, expect, it } from "vitest";
import { acceptPools, presentDivision, splitPool } from "../../../src/decisions/index.ts";
import type { Contradiction, Result } from "../../../src/model/index.ts";
import type { PageState } from "../../../src/review/api.ts";
import { figuresOf } from "../../../src/review/page/state/figures.ts";
import { allAccepted, nextDoubt, openDoubts, shownPools } from "../../../src/review/page/state/shown.ts";
import { tubeWords } from "../../../src/review/page/state/words.ts";
import { drawnResult } from "../../decisions/sampleRun.ts";

function stateOf(result: Result | null, more: Partial<PageState> = {}): PageState {
  return { result, division: null, contradictions: [], ...more } as PageState;
}

const result = drawnResult("AAxBB");
const suggested = presentDivision(result, null);
const doubtful = {
  ...result,
  fractions: result.fractions.map((f) => (f.number === 2 || f.number === 5 ? { ...f, confidence: 0.6 } : f)),
};

describe("the pools as they are shown", () => {
  it("are the suggestion, then what was decided, then what is still being saved", () => {
    expect(shownPools(stateOf(null), [])).toEqual([]);
    expect(shownPools(stateOf(result), [])).toEqual(suggested);
    const { pools } = acceptPools(result, suggested, null);
    const decided = stateOf(result, { division: { act: 1, at: "", pools } });
    expect(shownPools(decided, [])).toEqual(pools);
    const split = splitPool(result, pools, "1", 2);
    const waiting = [
      { kind: "divide" as const, ...split },
      { kind: "mend" as const, mending: {} as never },
    ];
    expect(shownPools(decided, waiting)).toEqual(split.pools);
  });
});

describe("doubts", () => {
  it("are walked through in order, from the first again after the last", () => {
    const doubts = openDoubts(stateOf(doubtful), suggested);
    expect(doubts).toEqual([2, 5]);
    expect([null, 2, 3, 5].map((now) => nextDoubt(doubts, now))).toEqual([2, 5, 5, 2]);
    expect(nextDoubt([], 3)).toBeNull();
  });

  it("are settled by accepting the pool, until the plates say otherwise", () => {
    const { pools } = acceptPools(doubtful, suggested, null);
    expect(openDoubts(stateOf(doubtful), pools)).toEqual([]);
    expect(allAccepted(pools)).toBe(true);
    const against = { code: "clean-now-mixed", message: "", remedy: "", pool: "1", fraction: 1, photo: null };
    expect(openDoubts(stateOf(doubtful, { contradictions: [against satisfies Contradiction] }), pools)).toEqual([1]);
  });

  it("nothing is accepted where there is nothing", () => {
    expect(allAccepted([])).toBe(false);
  });
});

describe("figures", () => {
  it("of the suggested pools are the suggestion's own; volumes are those of the tubes", () => {
    const figures = figuresOf({ result, volumesMl: [10, 10, 5, 10, null] });
    const [first, second] = suggested;
    expect(figures(first)).toMatchObject({ kind: "clean", purity: result.pools[0].purity, volumeMl: 20 });
    expect(figures(second).volumeMl).toBe(5);
    expect(figures({ fractions: [4, 5] }).volumeMl).toBeNull();
    expect(figures({ fractions: [1, 2, 3] }).kind).toBe("mixed");
  });
});

it("a tube is told in one line, with the pool it stands in now", () => {
  expect(tubeWords(doubtful.fractions[1], "best")).toBe("Tube 2: clean, A only; pool best; doubtful");
});
