import { describe, expect, it } from "vitest";
import {
  acceptPools,
  type Divided,
  findPool,
  judgeAct,
  mergePools,
  moveTubes,
  namePool,
  presentDivision,
  replay,
  splitPool,
  stretchPool,
  undecidedTubes,
} from "../../src/decisions/index.ts";
import type { Act, DecidedPool } from "../../src/model/index.ts";
import { drawnResult, journal } from "./sampleRun.ts";

/** tubes 1 2 3 4 5 6 7 8 9; suggested pools 1 = 1, 2 = 2-4, 3 = 5-6, 4 = 7-9 */
const READ = drawnResult(".AAAxxBBB");
const START = presentDivision(READ, null);

/** "name=tubes kind", accepted ones with "!". */
const drawn = (pools: readonly DecidedPool[]) =>
  pools.map((p) => `${p.name}=${p.fractions.join(",")} ${p.kind}${p.accepted ? "!" : ""}`);
const divided = (d: Divided) => drawn(d.pools);
const now = (...acts: Act[]) => replay(journal(...acts)).decisions;
const divide = (d: Divided): Act => ({ kind: "divide", ...d });

describe("dividing the tubes", () => {
  it("starts from the suggestion, with what each pool holds by Rf", () => {
    expect(drawn(START)).toEqual(["1=1 empty", "2=2,3,4 clean", "3=5,6 mixed", "4=7,8,9 clean"]);
    expect(START[1].holds).toEqual([{ component: "A", rf: 0.55 }]);
  });

  it("accepts all or some, and says yes to what the plates say now", () => {
    expect(divided(acceptPools(READ, START, null)).every((p) => p.endsWith("!"))).toBe(true);
    expect(divided(acceptPools(READ, START, ["2"]))).toEqual([
      "1=1 empty",
      "2=2,3,4 clean!",
      "3=5,6 mixed",
      "4=7,8,9 clean",
    ]);
  });

  it("moves tubes; a pool that takes a mixed tube is called clean no more, one left without tubes is gone", () => {
    expect(divided(moveTubes(READ, START, [5], "2"))).toEqual([
      "1=1 empty",
      "2=2,3,4,5 mixed",
      "3=6 mixed",
      "4=7,8,9 clean",
    ]);
    expect(divided(moveTubes(READ, START, [1], "2"))).toEqual(["2=1,2,3,4 clean", "3=5,6 mixed", "4=7,8,9 clean"]);
    expect(divided(moveTubes(READ, START, [4, 7], null))).toEqual([
      "1=1 empty",
      "2=2,3 clean",
      "5=4,7 mixed",
      "3=5,6 mixed",
      "4=8,9 clean",
    ]);
  });

  it("follows the end of a bracket: gained tubes leave their pools, lost ones go to the neighbour", () => {
    expect(divided(stretchPool(READ, START, "2", 2, 6))).toEqual(["1=1 empty", "2=2,3,4,5,6 mixed", "4=7,8,9 clean"]);
    expect(divided(stretchPool(READ, START, "3", 6, 6))).toEqual([
      "1=1 empty",
      "2=2,3,4,5 mixed",
      "3=6 mixed",
      "4=7,8,9 clean",
    ]);
    expect(divided(stretchPool(READ, START, "4", 7, 8))).toEqual([
      "1=1 empty",
      "2=2,3,4 clean",
      "3=5,6 mixed",
      "4=7,8 clean",
      "5=9 clean",
    ]);
  });

  it("splits, merges and names", () => {
    expect(divided(splitPool(READ, START, "2", 4))).toEqual([
      "1=1 empty",
      "2=2,3 clean",
      "5=4 clean",
      "3=5,6 mixed",
      "4=7,8,9 clean",
    ]);
    expect(divided(mergePools(READ, START, ["4", "3"]))).toEqual(["1=1 empty", "2=2,3,4 clean", "4=5,6,7,8,9 mixed"]);
    expect(divided(namePool(START, "4", " chalcone "))[3]).toBe("chalcone=7,8,9 clean");
  });

  it("knows a pool by its name, capitals or not, and by P and its number", () => {
    const pools = namePool(START, "4", "Chalcone").pools;
    expect(findPool(pools, "chalcone").fractions).toEqual([7, 8, 9]);
    expect(findPool(pools, "P2").name).toBe("2");
    expect(() => findPool(pools, "9")).toThrow('there is no pool "9"; there are pools 1, 2, 3 and Chalcone');
  });

  it.each([
    ["a tube that is not there", () => moveTubes(READ, START, [10], "2"), /no tube 10; there are tubes 1-9/],
    ["a tube where it is already", () => moveTubes(READ, START, [2, 3], "2"), /tubes 2-3 are in pool 2 already/],
    ["a cut at the first tube", () => splitPool(READ, START, "2", 2), /tubes 2-4/],
    ["a merge of one", () => mergePools(READ, START, ["2", "2"]), /two pools or more/],
    ["the same name", () => namePool(START, "2", "2"), /already/],
    ["a bracket without tubes", () => stretchPool(READ, START, "2", 20, 30), /no tube/],
  ])("refuses %s in one line", (_, deed, words) => {
    expect(deed).toThrow(words);
  });

  it("tubes of a new reading that no pool holds stand as suggested, under names of their own", () => {
    const before = drawnResult(".AA");
    const { division } = now(
      divide(namePool(acceptPools(before, presentDivision(before, null), null).pools, "1", "3")),
    );
    expect(undecidedTubes(READ, division)).toEqual([4, 5, 6, 7, 8, 9]);
    expect(drawn(presentDivision(READ, division))).toEqual([
      "3=1 empty!",
      "2=2,3 clean!",
      "1=4 clean",
      "4=5,6 mixed",
      "5=7,8,9 clean",
    ]);
  });
});

describe("what cannot be is refused", () => {
  const judge =
    (act: Act, state = now(), seen: number | null = null) =>
    () =>
      judgeAct(act, state, READ, seen);
  const pools = (change: (pools: DecidedPool[]) => unknown): Act => {
    const copy = structuredClone(START) as DecidedPool[];
    change(copy);
    return { kind: "divide", done: "move", pools: copy };
  };
  const put = (p: DecidedPool, change: Partial<DecidedPool>) => Object.assign(p, change);

  it.each([
    ["a tube twice", pools((p) => put(p[0], { fractions: [1, 2] })), /tube 2 would stand in two pools/],
    ["a tube in no pool", pools((p) => p.pop()), /tubes 7-9 would stand in no pool/],
    ["an unknown tube", pools((p) => put(p[3], { fractions: [7, 8, 9, 12] })), /there is no tube 12/],
    ["a pool without tubes", pools((p) => p.push({ ...p[0], name: "x", fractions: [] })), /pool x would hold no tube/],
    ["falling tubes", pools((p) => put(p[3], { fractions: [9, 8, 7] })), /rising/],
    ["one name twice", pools((p) => put(p[3], { name: "2" })), /there is a pool 2 already/],
    ["no name", pools((p) => put(p[3], { name: "" })), /needs a name/],
    ["a line break in a name", pools((p) => put(p[3], { name: "a\nb" })), /one line/],
    ["a long name", pools((p) => put(p[3], { name: "x".repeat(41) })), /at most 40/],
    ["an undo of nothing", { kind: "undo", of: 1 } as Act, /nothing to undo/],
    ["a redo of nothing", { kind: "redo", of: 1 } as Act, /nothing to redo/],
    ["a return to nowhere", { kind: "return", to: 0 } as Act, /nothing was decided yet/],
  ])("%s", (_, act, words) => {
    expect(judge(act)).toThrow(words);
  });

  it("an act made for an older state says so; for the newest one it passes", () => {
    const state = now(divide(acceptPools(READ, START, null)));
    const act = divide(namePool(START, "2", "ketone"));
    expect(judge(act, state, 0)).toThrow(/decided meanwhile \(act 1\)/);
    expect(judge(act, state, 1)).not.toThrow();
    expect(judge(act, state)).not.toThrow();
  });
});
