import { describe, expect, it } from "vitest";
import type { Candidate } from "../../../src/plate/spots/group.ts";
import { withoutFlanks } from "../../../src/plate/spots/ringed.ts";
import { toPeak } from "./profiles.ts";

const seen = (rf: number, view: number, significance: number, photo = 0): Candidate[] => {
  const height = significance / 100;
  return [{ peak: toPeak({ rf, height }), view, photo, significance }];
};
const rfs = (groups: readonly Candidate[][], all: readonly Candidate[][]) => groups.map((g) => all.indexOf(g));

describe("withoutFlanks", () => {
  const core = seen(0.4, 0, 80);
  const below = seen(0.362, 1, 85);
  const above = seen(0.441, 1, 75);

  it("makes a dark core between two glowing halves one spot", () => {
    const all = [below, core, above, seen(0.65, 1, 90)];
    expect(rfs(withoutFlanks(all), all)).toEqual([1, 3]);
  });

  it("does so as well where the core shows in another photo, far more clearly", () => {
    const all = [below, seen(0.4, 2, 240, 1), above];
    expect(rfs(withoutFlanks(all), all)).toEqual([1]);
  });

  it.each([
    ["seen in the same mix", [below, seen(0.4, 1, 80), above]],
    ["far from the middle between them", [below, seen(0.425, 0, 80), above]],
    ["too faint to be a core", [below, seen(0.4, 0, 20), above]],
    ["with one half far stronger", [seen(0.362, 1, 140), core, seen(0.441, 1, 45)]],
    ["with a half on one side alone", [below, core]],
    ["between halves that are none too clear", [seen(0.362, 1, 16), seen(0.4, 0, 20), seen(0.441, 1, 15)]],
    ["with halves that do not touch it", [seen(0.3, 1, 85), core, seen(0.5, 1, 75)]],
  ])("leaves a peak %s alone", (_, all) => {
    expect(withoutFlanks(all)).toEqual(all);
  });
});
