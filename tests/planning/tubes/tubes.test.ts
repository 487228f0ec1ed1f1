import { describe, expect, it } from "vitest";
import type { TubeNote } from "../../../src/model/index.ts";
import { logTubes } from "../../../src/planning/index.ts";

const note = (from: number, to: number, more: Partial<TubeNote>): TubeNote => ({
  from,
  to,
  volumeMl: null,
  eluent: null,
  flask: null,
  note: null,
  ...more,
});

describe("tube log", () => {
  it("adds up volumes, later notes overruling earlier ones, and follows the eluent", () => {
    const { value, findings } = logTubes(
      6,
      10,
      [
        note(2, 4, { volumeMl: 8 }),
        note(4, 4, { volumeMl: 5, note: "ran over" }),
        note(5, 5, { eluent: "hexane/ethyl acetate 1:1", flask: "2" }),
      ],
      "hexane/ethyl acetate 4:1",
    );
    expect(value.tubes.map((t) => t.volumeMl)).toEqual([10, 8, 8, 5, 10, 10]);
    expect(value.tubes.map((t) => t.endMl)).toEqual([10, 18, 26, 31, 41, 51]);
    expect(value.totalMl).toBe(51);
    expect(value.tubes[3].notes).toEqual(["ran over"]);
    expect(value.tubes[5].eluent).toBe("hexane/ethyl acetate 1:1");
    expect(value.tubes[5].flask).toBe("2");
    expect(value.changes).toEqual([{ tube: 5, eluent: "hexane/ethyl acetate 1:1" }]);
    expect(findings).toEqual([]);
  });

  it("takes 10 mL where nobody said, and asks", () => {
    const { value, findings } = logTubes(3, null, [note(1, 1, { volumeMl: 0 })], null);
    expect(value.tubes.map((t) => t.volumeMl)).toEqual([0, 10, 10]);
    expect(findings[0]).toMatchObject({ code: "tubes-without-volume" });
    expect(findings[0].message).toMatch(/Is that right\?/);
  });

  it.each([
    [note(0, 0, {}), /tube 0/],
    [note(5, 3, {}), /5-3/],
    [note(2, 9, {}), /has 6 tubes/],
    [note(2, 2, { volumeMl: -1 }), /-1 mL/],
    [note(2, 2, { volumeMl: 10_000 }), /µL/],
  ])("refuses %j", (bad, why) => {
    expect(() => logTubes(6, 10, [bad], null)).toThrow(why);
  });

  it("refuses a run without tubes and a usual volume of nothing", () => {
    expect(() => logTubes(0, 10, [], null)).toThrow(/count/);
    expect(() => logTubes(5, 0, [], null)).toThrow(/volume_ml/);
  });
});
