import { describe, expect, it } from "vitest";
import { judgeAct, parseEntry, replay, type TypedEntry } from "../../src/decisions/index.ts";
import type { TubeEntry } from "../../src/model/index.ts";
import { drawnResult } from "./sampleRun.ts";

const READ = drawnResult("AAAAxxBBB");
const TUBES = READ.fractions.map((f) => f.number);
const parse = (typed: TypedEntry) => parseEntry(typed, TUBES);

describe("an entry of the tube log, as it is typed", () => {
  it.each<[TypedEntry, TubeEntry]>([
    [
      { tubes: "7", volume: "12.5" },
      { from: 7, to: 7, volumeMl: 12.5 },
    ],
    [
      { tubes: " 7 - 9 ", volume: "12,5 mL", note: "" },
      { from: 7, to: 9, volumeMl: 12.5 },
    ],
    [
      { tubes: "7–9", volume: "0.02 L" },
      { from: 7, to: 9, volumeMl: 20 },
    ],
    [
      { tubes: "3", volume: "0" },
      { from: 3, to: 3, volumeMl: 0 },
    ],
    [
      { tubes: "3", eluent: " hexane/EtOAc 3:1 ", flask: "B" },
      { from: 3, to: 3, eluent: "hexane/EtOAc 3:1", flask: "B" },
    ],
    [
      { tubes: "1-9", note: "<b>yellow</b>" },
      { from: 1, to: 9, note: "<b>yellow</b>" },
    ],
  ])("%j", (typed, entry) => {
    expect(parse(typed)).toEqual({ entry });
  });

  it.each<[TypedEntry, string, RegExp]>([
    [{ tubes: "7", volume: "-3" }, "volume", /^-3 mL is less than nothing/],
    [{ tubes: "7", volume: "ten" }, "volume", /^"ten" is no volume: write millilitres/],
    [{ tubes: "7", volume: "12 g" }, "volume", /^"12 g" is no volume/],
    [{ tubes: "7", volume: "12000" }, "volume", /more than a tube holds/],
    [{ tubes: "", volume: "12" }, "tubes", /^which tube\?/],
    [{ tubes: "seven", volume: "12" }, "tubes", /^"seven" is no tube/],
    [{ tubes: "12", volume: "12" }, "tubes", /^there is no tube 12; the run has tubes 1-9/],
    [{ tubes: "0", volume: "12" }, "tubes", /^there is no tube 0/],
    [{ tubes: "8-12", volume: "12" }, "tubes", /^there is no tube 12/],
    [{ tubes: "9-7", volume: "12" }, "tubes", /run backwards/],
    [{ tubes: "7" }, "volume", /^write a volume, an eluent/],
    [{ tubes: "7", note: "x".repeat(201) }, "note", /longer than 200/],
    [{ tubes: "7", note: "two\nlines" }, "note", /one line/],
  ])("%j is told at its field", (typed, field, words) => {
    const parsed = parse(typed);
    expect("faults" in parsed && parsed.faults).toMatchObject([{ field, message: expect.stringMatching(words) }]);
  });

  it("tells every field that is wrong", () => {
    const parsed = parse({ tubes: "x", volume: "y", note: "a\u0000b" });
    expect("faults" in parsed && parsed.faults.map((f) => f.field)).toEqual(["tubes", "volume", "note"]);
  });

  it.each<[TubeEntry, RegExp]>([
    [{ from: 3, to: 3 }, /nothing is said/],
    [{ from: 3, to: 12, volumeMl: 1 }, /no tube 12/],
    [{ from: 3, to: 3, volumeMl: -1 }, /less than nothing/],
    [{ from: 3, to: 3, eluent: "" }, /eluent: is empty/],
  ])("%j from elsewhere is refused as well", (entry, words) => {
    const { decisions } = replay([]);
    expect(() => judgeAct({ kind: "log", entry }, decisions, READ, null)).toThrow(words);
  });
});
