import { expect, it } from "vitest";
import { convolved } from "../../src/math/convolve.ts";

it("lays the kernel over each value, the ends going on", () => {
  expect([...convolved([1, 2, 4], [0.5, 1, 2])]).toEqual([0.5 + 1 + 4, 0.5 + 2 + 8, 1 + 4 + 8]);
});

it("leaves values as they are under a kernel of one", () => {
  expect([...convolved([3, 1, 2], [1])]).toEqual([3, 1, 2]);
});

it("comes to the same at every place of many values", () => {
  const kernel = [0.3, -1, 0.25, 2, 0.7];
  const values = [1, 4, -2, 8, 5, 7, 3];
  const at = (i: number) => values[Math.min(values.length - 1, Math.max(0, i))];
  const each = values.map((_, i) => kernel.reduce((sum, w, k) => sum + w * at(i + k - 2), 0));
  expect([...convolved(values, kernel)]).toEqual(each);
});
