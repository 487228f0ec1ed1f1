import { describe, expect, it } from "vitest";
import { type Candidate, groupCandidates } from "../../../src/plate/spots/group.ts";
import { rowOfRf } from "../../../src/plate/spots/strip.ts";
import { toPeak } from "./profiles.ts";

const seen = (rf: number, view: number, significance: number): Candidate => ({
  peak: toPeak({ rf, height: significance / 100 }),
  ...{ view, photo: view, significance },
});
const modes = (groups: readonly Candidate[][]) =>
  groups.map((g) => g.map((c) => `${c.view}@${c.peak.mode.toFixed(0)}`));
const at = (rf: number) => rowOfRf(rf).toFixed(0);

describe("groupCandidates", () => {
  it("puts what two photos show at one place together, the clearest first", () => {
    const groups = groupCandidates([seen(0.4, 0, 10), seen(0.402, 1, 30), seen(0.6, 0, 20)]);
    expect(modes(groups)).toEqual([[`1@${at(0.402)}`, `0@${at(0.4)}`], [`0@${at(0.6)}`]]);
  });

  it("takes a narrow peak and its wide foot, seen by one photo, for one spot: the clearer", () => {
    expect(modes(groupCandidates([seen(0.4, 0, 10), seen(0.405, 0, 30)]))).toEqual([[`0@${at(0.405)}`]]);
  });

  it("keeps a spot that one photo shows apart from a streak that glows along the lane in another", () => {
    const streak = { ...seen(0.41, 0, 60) };
    const wide = { ...streak, peak: { ...streak.peak, logSigma: streak.peak.logSigma + Math.log(5) } };
    expect(modes(groupCandidates([wide, seen(0.4, 1, 30)]))).toEqual([[`0@${at(0.41)}`], [`1@${at(0.4)}`]]);
    // A spot that only looks wider in one photo is one spot.
    const wider = { ...streak, peak: { ...streak.peak, logSigma: streak.peak.logSigma + Math.log(1.5) } };
    expect(groupCandidates([wider, seen(0.4, 1, 30)])).toHaveLength(1);
  });

  it("leaves two spots 0.03 apart two", () => {
    expect(groupCandidates([seen(0.4, 0, 10), seen(0.43, 0, 30)])).toHaveLength(2);
  });
});
