import { expect, it } from "vitest";
import { convolved } from "../../src/math/convolve.ts";

it("lays the kernel over each value, the ends going on", () => {
  expect([...convolved([1, 2, 4], [0.5, 1, 2])]).toEqual([0.5 + 1 + 4, 0.5 + 2 + 8, 1 + 4 + 8]);
});

it("leaves values as they are under a kernel of one", () => {
  expect([...convolved([3, 1, 2], [1])]).toEqual([3, 1, 2]);
});
