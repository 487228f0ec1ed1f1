import { describe, expect, it } from "vitest";
import { decideElution } from "../../src/elution/index.ts";
import type { ElutionReading, Lane, PlateReading } from "../../src/model/index.ts";
import { decideComponents } from "../../src/pipeline/decideComponents.ts";
import { plate } from "./sampleReadings.ts";

const OPTIONS = { fractionCount: null, volumeMl: 10, policy: "balance", want: null } as const;

/** A plate whose lanes are tubes `first`, `first` + 1 ... */
function tubes(id: string, first: number, lanes: Parameters<typeof plate>[1]): PlateReading {
  const drawn = plate(`${id}.jpg`, lanes);
  const named = drawn.lanes.map((l, i): Lane => ({ ...l, label: String(first + i), fraction: first + i }));
  return { ...drawn, id, lanes: named };
}

/** Components at 0.60 and 0.45, tubes 1-4 and 4-7, and one more at 0.25 in 8-9. */
const TWO = [
  tubes(
    "P1",
    1,
    [
      [[0.6, 300]],
      [[0.6, 1000]],
      [[0.6, 900]],
      [
        [0.6, 300],
        [0.45, 400],
      ],
    ].map((l) => l as [number, number][]),
  ),
  tubes("P2", 5, [[[0.45, 1000]], [[0.45, 900]], [[0.45, 300]], [[0.25, 800]], [[0.25, 700]]]),
];
const at = ({ components }: ElutionReading) => components.map((c) => `${c.id} ${c.rf.toFixed(2)} ${c.first}-${c.last}`);

describe("components as a person has them", () => {
  it("without a mending are those that were found", () => {
    const { unmet, ...decided } = decideComponents(TWO, [], OPTIONS);
    expect(decided).toEqual(decideElution(TWO, OPTIONS));
    expect(unmet).toEqual([]);
    expect(at(decided.value)).toEqual(["A 0.60 1-4", "B 0.45 4-7", "C 0.25 8-9"]);
  });

  it("two merged are one over all their tubes, and a tube that shows both is clean", () => {
    const { value, unmet } = decideComponents(TWO, [{ what: "components-merge", rf: [0.6, 0.45] }], OPTIONS);
    expect(unmet).toEqual([]);
    expect(value.components).toHaveLength(2);
    expect(value.components[0]).toMatchObject({ id: "A", first: 1, last: 7 });
    expect(value.fractions[3].state).toBe("clean");
    const spots = value.assignments.filter((a) => a.plate === "P1" && a.lane === 4);
    expect(spots.map((s) => [s.spot, s.component])).toEqual([
      [0, "A"],
      [1, "A"],
    ]);
  });

  it("one split is two, at their own Rf in figures and in words", () => {
    const one = tubes("P1", 1, [
      [[0.5, 500]],
      [[0.5, 1000]],
      [[0.495, 900]],
      [[0.482, 600]],
      [[0.478, 1000]],
      [[0.482, 500]],
    ]);
    const low = tubes("P2", 7, [[[0.2, 700]], [[0.2, 600]]]);
    const found = decideElution([one, low], OPTIONS).value;
    const { value, unmet } = decideComponents([one, low], [{ what: "component-split", rf: 0.49, at: 0.489 }], OPTIONS);
    expect(unmet).toEqual([]);
    const three = value.components.slice(-3);
    expect(three.map((c) => c.rf.toFixed(2))).toEqual(["0.50", "0.48", "0.20"]);
    expect(found.components.length).toBeLessThanOrEqual(value.components.length);
    expect(value.pools.map((p) => p.reason).join(" ")).toMatch(/Rf 0\.50.*Rf 0\.48.*Rf 0\.20/);
  });

  it("a split or a merge that the reading now makes by itself is neither made again nor missed", () => {
    const near = [
      tubes("P1", 1, [[[0.52, 500]], [[0.52, 1000]], [[0.521, 900]], [[0.45, 600]], [[0.451, 1000]], [[0.449, 500]]]),
      tubes("P2", 7, [[[0.2, 700]], [[0.2, 600]]]),
    ];
    const found = decideElution(near, OPTIONS).value;
    expect(at(found)).toHaveLength(3);
    for (const rf of [0.49, 0.48]) {
      const split = decideComponents(near, [{ what: "component-split", rf, at: 0.486 }], OPTIONS);
      expect(split.unmet).toEqual([]);
      expect(split.value).toEqual(found);
    }
    const merged = decideComponents(near, [{ what: "components-merge", rf: [0.53, 0.51] }], OPTIONS);
    expect(merged.unmet).toEqual([]);
    expect(merged.value).toEqual(found);
  });

  it.each([
    [
      "a merge",
      { what: "components-merge", rf: [0.6, 0.9] },
      /Components were merged by hand at Rf 0\.60 and Rf 0\.90/,
    ],
    ["a split", { what: "component-split", rf: 0.9, at: 0.9 }, /A component was split by hand at Rf 0\.90/],
    ["a split with all spots on one side", { what: "component-split", rf: 0.6, at: 0.3 }, /nothing to split/],
  ] as const)("%s of what is not there is told, and the found ones stand", (_, mending, words) => {
    const { unmet, value } = decideComponents(TWO, [mending], OPTIONS);
    expect(unmet).toMatchObject([{ code: "mended-component-gone", message: expect.stringMatching(words) }]);
    expect(at(value)).toHaveLength(3);
  });
});
