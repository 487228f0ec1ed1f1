import { describe, expect, it } from "vitest";
import type { Belief, TubeBelief } from "../../src/elution/belief.ts";
import { tubeReason } from "../../src/elution/pools/reasons.ts";

/** A component that shows with the given chance. */
const shows = (chance: number): Belief => ({
  chance,
  spot: { logMean: 0, logSd: 0.2, visible: 1 },
  rest: { logMean: -5, logSd: 1, visible: 0 },
});

const tube = (minor: number): TubeBelief => ({
  number: 5,
  ...{ seen: true, evidence: [], silent: false, forgotten: 0, claimed: false },
  components: [shows(1), shows(minor)],
});

describe("the doubt about a clean tube", () => {
  const odds = { clean: [0.83, 0], mixed: 0.17, empty: 0, share: [1, 0] };
  const doubt = (minor: number) => tubeReason(tube(minor), odds, "clean", 0, 0.8);

  it("is that something may be in it, with its chance, where that is not seen", () => {
    expect(doubt(0.3)).toBe("B may be in tube 5 as well (30 %).");
  });

  it("tells a trace that may show from what would make the tube mixed", () => {
    expect(doubt(0.6)).toBe("B may be in tube 5 as well (60 %, likely a trace: mixed 17 %).");
  });

  it("is how much of it there is, where it shows", () => {
    expect(doubt(0.99)).toBe("B shows in tube 5 too, likely a trace; the tube may be mixed (17 %).");
  });
});
