import { describe, expect, it } from "vitest";
import { acceptPools, moveTubes, namePool, presentDivision, replay } from "../../src/decisions/index.ts";
import type { Act, Decisions, RunFile } from "../../src/model/index.ts";
import { asDecided, decidedPools, redecided } from "../../src/pipeline/decided.ts";
import { judgePool } from "../../src/pipeline/judgePool.ts";
import { drawnResult, journal } from "../decisions/sampleRun.ts";

const READ = drawnResult(".AAAxxBBB");
const START = presentDivision(READ, null);
const RUN = { run: null, fractionCount: 9, volumeMl: 10, plates: null } as RunFile;
const grounds = { run: RUN, unmet: [] };
const decide = (...acts: Act[]): Decisions => replay(journal(...acts)).decisions;
const MOVED: Act = { kind: "divide", ...moveTubes(READ, namePool(START, "2", "ketone").pools, [4], "3") };
const MENDED: Act = { kind: "mend", mending: { what: "components-merge", rf: [0.55, 0.37] } };

describe("decided pools in the result", () => {
  it("are left out where nothing was decided: the same result", () => {
    expect(decidedPools(READ, decide(), grounds)).toBe(READ);
  });

  it("stand beside the suggestion, which stays as it was", () => {
    const { decisions, ...rest } = decidedPools(READ, decide(MOVED), grounds);
    expect(rest).toEqual(READ);
    expect(decisions?.pools?.map((p) => [p.id, p.fractions.length, p.kind, p.volume_ml, p.accepted])).toEqual([
      ["1", 1, "empty", 10, false],
      ["ketone", 2, "clean", 20, false],
      ["3", 3, "mixed", 30, false],
      ["4", 3, "clean", 30, false],
    ]);
    expect(decisions?.pools?.[1].reason).toBe(
      "Divided by hand: tubes 2-3 show A (Rf 0.55); one spot is not proof of purity.",
    );
    expect(decisions).toMatchObject({ last: 1, undecided: [], contradictions: [] });
  });

  it("are null where only the reading was mended", () => {
    const { decisions } = decidedPools(READ, decide(MENDED), grounds);
    expect(decisions?.pools).toBeNull();
    expect(decisions?.mendings.components).toHaveLength(1);
  });

  it("take the place of the suggested ones for what is done at the bench", () => {
    const result = asDecided(decidedPools(READ, decide(MOVED), grounds));
    expect(result.pools.map((p) => p.id)).toEqual(["1", "ketone", "3", "4"]);
    expect(result.fractions.map((f) => f.pool)).toEqual(["1", "ketone", "ketone", "3", "3", "3", "4", "4", "4"]);
    expect(asDecided(READ)).toBe(READ);
  });

  it("are brought up to date without reading anew, unless something was mended since", () => {
    const before = decidedPools(READ, decide(MOVED), grounds);
    const accepted: Act = { kind: "divide", ...acceptPools(READ, START, null) };
    expect(redecided(before, decide(MOVED, accepted), RUN)).toEqual(
      decidedPools(READ, decide(MOVED, accepted), grounds),
    );
    expect(redecided(READ, decide(MOVED), RUN)).toEqual(before);
    expect(redecided(before, decide(MOVED, MENDED), RUN)).toBeNull();
    expect(redecided(before, decide(MOVED, MENDED, { kind: "undo", of: 2 }), RUN)?.decisions?.last).toBe(3);
  });
});

describe("volumes", () => {
  it("are as noted last of a tube, else the usual one", () => {
    const note = (from: number, to: number, volumeMl: number | null) => ({
      from,
      to,
      volumeMl,
      eluent: null,
      flask: null,
      note: null,
    });
    const run = { ...RUN, bench: { tubes: [note(1, 4, 12), note(4, 4, 7), note(1, 9, null)] } } as unknown as RunFile;
    const volumes = (...acts: Act[]) =>
      decidedPools(READ, decide(...acts), { run, unmet: [] }).pools.map((p) => p.volume_ml);
    expect(volumes()).toEqual([12, 12 + 12 + 7, 20, 30]);
    const written: Act = { kind: "log", entry: { from: 4, to: 5, volumeMl: 3 } };
    expect(volumes(written)).toEqual([12, 12 + 12 + 3, 3 + 10, 30]);
    expect(volumes(written, { kind: "undo", of: 1 })).toEqual(volumes());
  });

  it("of decided pools follow what was written into the log, without a new reading", () => {
    const written: Act = { kind: "log", entry: { from: 2, to: 2, volumeMl: 25 } };
    const after = redecided(decidedPools(READ, decide(MOVED), grounds), decide(MOVED, written), RUN);
    expect(after?.decisions?.pools?.map((p) => p.volume_ml)).toEqual([10, 35, 30, 30]);
    expect(after?.pools.map((p) => p.volume_ml)).toEqual([10, 45, 20, 30]);
  });
});

describe("judging a given pool", () => {
  const judge = (tubes: number[], volumeOf: (n: number) => number | null = () => 10) =>
    judgePool(READ, tubes, { volumeOf });

  it("just the tubes of a suggested pool have its purity", () => {
    expect(judge([2, 3, 4]).purity).toEqual(READ.pools[1].purity);
  });

  it("shares by hand: 200 of A and none of B is pure; with 60 A and 40 B more it is 260 of 300", () => {
    expect(judge([2, 3])).toMatchObject({ kind: "clean", components: ["A"], purity: { low: 1, mid: 1, high: 1 } });
    const { purity, kind, components } = judge([2, 3, 5]);
    expect([kind, components]).toEqual(["mixed", ["A", "B"]]);
    expect(purity.mid).toBeCloseTo(260 / 300, 3);
    expect(purity.low).toBeLessThan(purity.mid);
    expect(purity.high).toBeGreaterThan(purity.mid);
  });

  it("recovery is the share of all of its main component: 200 of 420 A", () => {
    expect(judge([2, 3]).recovery.mid).toBeCloseTo(200 / 420, 6);
    expect(judge([2, 3, 4, 5, 6]).recovery.mid).toBe(1);
  });

  it("volume is that of its tubes, unknown where one is", () => {
    expect(judge([2, 3]).volumeMl).toBe(20);
    expect(judge([2, 3], (n) => (n === 2 ? 10 : null)).volumeMl).toBeNull();
  });

  it("nothing shown has no purity; a tube of another kind lowers the confidence", () => {
    expect(judge([1])).toMatchObject({ kind: "empty", components: [], purity: { low: 0, mid: 0, high: 0 } });
    expect(judge([2, 3]).confidence).toBeCloseTo(0.95);
    expect(judge([2, 3, 5]).confidence).toBeLessThan(0.5);
  });
});
