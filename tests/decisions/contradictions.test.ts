import { describe, expect, it } from "vitest";
import { acceptPools, contradictions, groundsOf, presentDivision, replay } from "../../src/decisions/index.ts";
import type { Act, Result } from "../../src/model/index.ts";
import { drawnResult, journal } from "./sampleRun.ts";

const accepted = (read: Result): Act => ({ kind: "divide", ...acceptPools(read, presentDivision(read, null), null) });
const decided = (drawing: string) => replay(journal(accepted(drawnResult(drawing)))).decisions;
const found = (before: string, after: string) => contradictions(decided(before), drawnResult(after));

describe("a new reading against what was decided", () => {
  it("has nothing to say where it agrees, whatever was known then", () => {
    expect(found(".AAxBB.", ".AAxBB.")).toEqual([]);
    expect(found(".AAxBB.", ".AAxxB.").map((c) => c.code)).toEqual(["clean-now-mixed"]);
  });

  it.each([
    [
      "a clean tube that now reads mixed",
      "AAA",
      "AxA",
      "clean-now-mixed",
      2,
      "Pool 1 was decided as clean in A (Rf 0.55), but tube 2 reads mixed now.",
    ],
    [
      "a clean tube that now reads clean in another",
      "AAA",
      "AAB",
      "clean-now-other",
      3,
      "Pool 1 was decided as clean in A (Rf 0.55), but tube 3 reads clean in another component now.",
    ],
    [
      "an empty tube that now shows something",
      "..A",
      "x.A",
      "empty-now-shown",
      1,
      "Pool 1 was decided as empty, but tube 1 shows something now.",
    ],
    [
      "a mixed pool that now reads clean",
      "xxA",
      "BBA",
      "mixed-now-clean",
      1,
      "Pool 1 was decided as mixed, but all its tubes read clean in one component now.",
    ],
    [
      "a tube that is gone",
      "AAB",
      "AA",
      "decided-tube-gone",
      3,
      "Tube 3 of pool 2 is in no plate and no count any more.",
    ],
    ["a tube that is new", "AA", "AAB", "tube-undecided", 3, "Tube 3 is new since the pools were decided."],
  ])("%s", (_, before, after, code, fraction, message) => {
    expect(found(before, after)).toMatchObject([{ code, fraction, message }]);
  });

  it("letters that changed are no contradiction where the Rf stayed", () => {
    const read = drawnResult("AAB");
    const swap = (id: string) => ({ A: "B", B: "A" })[id] ?? id;
    const relettered: Result = {
      ...read,
      components: read.components.map((c) => ({ ...c, id: swap(c.id) })),
      fractions: read.fractions.map((f) => ({
        ...f,
        composition: Object.fromEntries(Object.entries(f.composition).map(([id, share]) => [swap(id), share])),
      })),
    };
    expect(contradictions(decided("AAB"), relettered)).toEqual([]);
  });

  it("never changes the decision", () => {
    const before = decided("AAA");
    const copy = structuredClone(before);
    contradictions(before, drawnResult("xB.A"));
    expect(before).toEqual(copy);
  });

  it("a mended plate that no photo shows is told", () => {
    const { decisions } = replay(
      journal({ kind: "mend", mending: { what: "origin", plate: { photos: ["p7.jpg"], place: 0 }, y: 0.9 } }),
    );
    expect(contradictions(decisions, drawnResult("AA"))).toMatchObject([
      { code: "mended-plate-gone", photo: "p7.jpg" },
    ]);
  });
});

describe("the grounds of a decision", () => {
  const act = accepted(drawnResult("AAB"));

  it("are the same for the same reading, and change with what the tubes hold", () => {
    expect(groundsOf(drawnResult("AAB"), act)).toBe(groundsOf(drawnResult("AAB"), act));
    expect(groundsOf(drawnResult("AxB"), act)).not.toBe(groundsOf(drawnResult("AAB"), act));
  });

  it("of a mending are its plate", () => {
    const mend: Act = { kind: "mend", mending: { what: "origin", plate: { photos: ["p1.jpg"], place: 0 }, y: 0.9 } };
    expect(groundsOf(drawnResult("AAB"), mend)).toContain("p1.jpg");
    expect(groundsOf({ ...drawnResult("AAB"), plates: [] }, mend)).toBe("no such plate");
  });
});
