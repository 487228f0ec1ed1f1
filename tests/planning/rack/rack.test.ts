import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { RackLayout } from "../../../src/model/index.ts";
import { tubeAt, tubePlace, usualRack } from "../../../src/planning/index.ts";

/** The rack as it stands on the bench, row by row. */
function drawn(rack: RackLayout): string[] {
  return Array.from({ length: rack.rows }, (_, row) =>
    Array.from({ length: rack.columns }, (_, column) => tubeAt(rack, { rack: 0, row, column })).join(" "),
  );
}

describe("numbering of a rack", () => {
  it.each([
    ["rows", "top-left", ["1 2 3", "4 5 6"]],
    ["serpentine", "top-left", ["1 2 3", "6 5 4"]],
    ["columns", "top-left", ["1 3 5", "2 4 6"]],
    ["columns-serpentine", "top-left", ["1 4 5", "2 3 6"]],
    ["rows", "bottom-left", ["4 5 6", "1 2 3"]],
    ["serpentine", "bottom-right", ["4 5 6", "3 2 1"]],
  ] as const)("by %s from the %s", (fill, start, expected) => {
    expect(drawn({ rows: 2, columns: 3, fill, start })).toEqual(expected);
  });

  it("place and number undo each other in every rack, beyond the first one too", () => {
    const rack = fc.record({
      rows: fc.integer({ min: 1, max: 12 }),
      columns: fc.integer({ min: 1, max: 12 }),
      fill: fc.constantFrom("rows", "serpentine", "columns", "columns-serpentine"),
      start: fc.constantFrom("top-left", "top-right", "bottom-left", "bottom-right"),
    }) as fc.Arbitrary<RackLayout>;
    fc.assert(
      fc.property(rack, fc.integer({ min: 1, max: 500 }), (layout, n) => tubeAt(layout, tubePlace(layout, n)) === n),
    );
  });

  it("the usual rack holds the tubes", () => {
    for (const n of [1, 9, 24, 61]) {
      const rack = usualRack(n);
      expect(rack.rows * rack.columns).toBeGreaterThanOrEqual(n);
    }
    expect(tubeAt(usualRack(5), { rack: 0, row: 9, column: 0 })).toBeNull();
  });
});
