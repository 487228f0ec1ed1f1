import fc from "fast-check";
import { expect, it } from "vitest";
import { shared } from "../../../src/review/page/state/shared.ts";

it("says what is said now, whatever was said before", () => {
  const said = fc.jsonValue().map((value) => JSON.parse(JSON.stringify(value)));
  fc.assert(fc.property(said, said, (before, next) => void expect(shared(before, next)).toEqual(next)));
});

it("keeps every part that did not change", () => {
  const before = {
    plates: [
      { id: "P1", lanes: [1, 2] },
      { id: "P2", lanes: [3] },
    ],
    components: [{ id: "A" }],
  };
  const next = shared(before, {
    plates: [
      { id: "P1", lanes: [1, 2] },
      { id: "P2", lanes: [4] },
    ],
    components: [{ id: "A" }],
  });
  expect(next.plates[1].lanes).toEqual([4]);
  expect(next.plates[0]).toBe(before.plates[0]);
  expect(next.components).toBe(before.components);
  expect(shared(before, structuredClone(before))).toBe(before);
});

it("what is shorter, longer or of another kind is not the same", () => {
  expect(shared([1, 2], [1])).toEqual([1]);
  expect(shared([1], [1, 2])).toEqual([1, 2]);
  expect(shared({ a: undefined }, {})).toEqual({});
  expect(shared({ 0: 1 }, [1])).toEqual([1]);
  expect(shared({ a: 1 }, null)).toBeNull();
});
