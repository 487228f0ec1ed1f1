import { expect, it } from "vitest";
import { seededRandom } from "../../src/math/random.ts";
import { selectSize } from "../../src/math/selectSize.ts";

it.each([1, 2, 7, 100, 3001])("is the value that would stand there if %i of them were sorted", (count) => {
  const random = seededRandom(count);
  const whole = new Float32Array(count + 3);
  // Not from the beginning of their buffer; many of one size, and many octaves.
  const sizes = whole.subarray(2, 2 + count);
  for (let i = 0; i < count; i++) sizes[i] = i % 3 === 0 ? 0 : i % 5 === 0 ? 0.25 : 2 ** (30 * (random() - 0.8));
  const before = sizes.slice();
  const sorted = sizes.slice().sort();
  for (const k of [0, count >> 2, count >> 1, count - 1]) expect(selectSize(sizes, k)).toBe(sorted[k]);
  expect(sizes).toEqual(before);
});
