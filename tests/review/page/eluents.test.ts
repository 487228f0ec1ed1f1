import { expect, it } from "vitest";
import { eluentChanges } from "../../../src/review/page/state/eluents.ts";
import { placeInWords } from "../../../src/review/page/state/words.ts";

const note = (from: number, eluent: string | null) => ({
  ...{ from, to: from, eluent, volumeMl: null, flask: null, note: null, typed: true },
});

it("an eluent is marked where it begins, not where it is written down once more", () => {
  const notes = [note(9, "3:1"), note(1, "9:1"), note(5, null), note(4, "9:1"), note(12, "9:1")];
  expect([...eluentChanges(notes)]).toEqual([
    [1, "9:1"],
    [9, "3:1"],
    [12, "9:1"],
  ]);
});

it("what is how sure is said: the place in the pool, or the pool that was suggested", () => {
  expect(placeInWords({ pool: "2", confidence: 0.37 }, "2")).toBe("pool 2, its place there 37 % sure");
  expect(placeInWords({ pool: "2", confidence: 0.37 }, "3")).toBe("pool 3; suggested: pool 2, 37 % sure");
});
