import { describe, expect, it } from "vitest";
import { seededRandom } from "../../../src/math/random.ts";
import { ridge, type Stripes, spreadOf, spreadOfRidge } from "../../../src/plate/migration/blocks.ts";

const HEIGHT = 31;

/** Whole numbers, so that many are equal. */
function roughStripes(seed: number): Stripes {
  const random = seededRandom(seed);
  const data = Float32Array.from({ length: 4 * HEIGHT }, () => Math.floor(5 * random()));
  return { count: 4, height: HEIGHT, data };
}

describe("ridge", () => {
  it.each([1, 3, 10])("is the smaller of what a row stands out of those %i above and below", (reach) => {
    const { data, ...stripes } = roughStripes(reach);
    const each = data.map((v, i) => {
      const [y, o] = [i % HEIGHT, i - (i % HEIGHT)];
      const beside = [data[o + Math.max(0, y - reach)], data[o + Math.min(HEIGHT - 1, y + reach)]];
      return Math.max(0, v - Math.max(...beside)) + Math.min(0, v - Math.min(...beside));
    });
    expect(ridge({ ...stripes, data }, reach).data).toEqual(each);
  });

  it("has the spread that it has without being worked out", () => {
    const stripes = roughStripes(7);
    expect(spreadOfRidge(stripes, 2)).toBe(spreadOf(ridge(stripes, 2)));
    expect(spreadOf(ridge({ ...stripes, data: new Float32Array(4 * HEIGHT) }, 2))).toBe(1e-6);
  });
});
