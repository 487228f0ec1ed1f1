import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { contradictions, entriesUpTo, replay, USUAL_ML, volumesIn, writtenOver } from "../../src/decisions/index.ts";
import type { Act, TubeEntry, TubeNote } from "../../src/model/index.ts";
import { logTubes, USUAL_FRACTION_ML } from "../../src/planning/tubes/index.ts";
import { drawnResult, journal } from "./sampleRun.ts";

const note = (from: number, to: number, said: Partial<TubeNote>): TubeNote => ({
  ...{ from, to, volumeMl: null, eluent: null, flask: null, note: null },
  ...said,
});
/** What the bench makes of it: volume, eluent, flask and notes of each of nine tubes. */
const bench = (notes: readonly TubeNote[], entries: readonly TubeEntry[]) =>
  logTubes(9, 10, writtenOver(notes, entries), "hexane").value.tubes;

describe("what is written into the tube log", () => {
  const FILE = [note(1, 9, { volumeMl: 8 }), note(4, 4, { eluent: "hexane/EtOAc 4:1", note: "cracked", flask: "B" })];

  it("takes the place of what run.yaml says of these tubes, and of nothing else", () => {
    const tubes = bench(FILE, [{ from: 3, to: 5, volumeMl: 12.5 }]);
    expect(tubes.map((t) => t.volumeMl)).toEqual([8, 8, 12.5, 12.5, 12.5, 8, 8, 8, 8]);
    expect(tubes.map((t) => t.eluent === "hexane")).toEqual([true, true, true, ...Array(6).fill(false)]);
    expect(tubes[3].notes).toEqual(["cracked"]);
  });

  it("a note is replaced, not added to; a change of eluent stands where it begins", () => {
    const tubes = bench(FILE, [
      { from: 4, to: 4, note: "no crack" },
      { from: 6, to: 8, eluent: "EtOAc", flask: "C" },
    ]);
    expect(tubes[3].notes).toEqual(["no crack"]);
    expect(tubes.map((t) => t.eluent)).toEqual([
      ...Array(3).fill("hexane"),
      ...Array(2).fill("hexane/EtOAc 4:1"),
      ...Array(4).fill("EtOAc"),
    ]);
    expect(tubes.map((t) => t.flask ?? "-").join("")).toBe("---BBCCCC");
  });

  it("null takes away what was said, here or in run.yaml", () => {
    const tubes = bench(FILE, [
      { from: 4, to: 4, eluent: null, flask: null, note: null },
      { from: 2, to: 9, volumeMl: null },
    ]);
    expect(tubes.map((t) => t.volumeMl)).toEqual([8, 10, 10, 10, 10, 10, 10, 10, 10]);
    expect(tubes.every((t) => t.eluent === "hexane" && t.flask === null && t.notes.length === 0)).toBe(true);
  });

  it("the last word on each tube counts, whatever was written before", () => {
    const entry = fc
      .record({ from: fc.integer({ min: 1, max: 9 }), length: fc.nat(8), volumeMl: fc.integer({ min: 0, max: 50 }) })
      .map(({ from, length, volumeMl }) => ({ from, to: Math.min(9, from + length), volumeMl }));
    fc.assert(
      fc.property(fc.array(entry, { maxLength: 12 }), (entries) => {
        const expected = Array.from({ length: 9 }, (_, i) => {
          const last = entries.findLast((e) => e.from <= i + 1 && i + 1 <= e.to);
          return last?.volumeMl ?? 8;
        });
        expect(bench(FILE, entries).map((t) => t.volumeMl)).toEqual(expected);
      }),
      { seed: 5 },
    );
  });

  it("says of each line whether it was typed or stands in run.yaml", () => {
    const lines = writtenOver(FILE, [{ from: 9, to: 9, volumeMl: 3 }]);
    expect(lines.map((l) => [l.from, l.to, l.typed])).toEqual([
      [1, 8, false],
      [4, 4, false],
      [9, 9, true],
    ]);
  });

  it("is undone and redone as anything else", () => {
    const entry = { from: 3, to: 3, volumeMl: 12 };
    const log = (...more: Act[]) => replay(journal({ kind: "log", entry }, ...more)).decisions.log;
    expect(log()).toEqual([entry]);
    expect(log({ kind: "undo", of: 1 })).toEqual([]);
    expect(log({ kind: "undo", of: 1 }, { kind: "redo", of: 1 })).toEqual([entry]);
    expect(log({ kind: "return", to: 0 })).toEqual([]);
  });

  it("of tubes that are gone waits for them, and that is said", () => {
    const entries = [{ from: 8, to: 12, volumeMl: 3 }];
    expect(entriesUpTo(entries, 9)).toEqual([{ from: 8, to: 9, volumeMl: 3 }]);
    expect(entriesUpTo(entries, 7)).toEqual([]);
    const { decisions } = replay(journal({ kind: "log", entry: entries[0] }));
    expect(contradictions(decisions, drawnResult("AAAA"))).toMatchObject([{ code: "logged-tube-gone" }]);
    expect(contradictions(decisions, drawnResult("AAAAAAAAAAAA"))).toEqual([]);
  });
});

describe("volumes by the log", () => {
  it("are nobody's guess where nobody said any", () => {
    expect(volumesIn(null, [note(2, 2, { note: "cloudy" })])(1)).toBeNull();
  });
  it("are the usual ones of the bench where only some were told", () => {
    expect(USUAL_ML).toBe(USUAL_FRACTION_ML);
    expect([1, 2].map(volumesIn(null, [note(2, 2, { volumeMl: 25 })]))).toEqual([USUAL_ML, 25]);
  });
});
