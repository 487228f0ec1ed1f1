import { describe, expect, it } from "vitest";
import { seededRandom } from "../../src/math/random.ts";
import { cheapestSegmentation, type Segment } from "../../src/math/segmentation.ts";

type Cost = (position: number, label: number) => number;

/** Every cutting of n positions into stretches, each stretch with its cheapest label: the plain way, exponential. */
function bruteForce(n: number, labels: number, cost: Cost, perSegment: number, seam: Cost): number {
  let best = Number.POSITIVE_INFINITY;
  for (let cuts = 0; cuts < 1 << (n - 1); cuts++) {
    let total = 0;
    for (let from = 0; from < n; ) {
      let to = from;
      while (to + 1 < n && !(cuts & (1 << to))) to++;
      let cheapest = Number.POSITIVE_INFINITY;
      for (let l = 0; l < labels; l++) {
        let sum = perSegment;
        for (let i = from; i <= to; i++) sum += cost(i, l) + (i > from ? seam(i, l) : 0);
        cheapest = Math.min(cheapest, sum);
      }
      total += cheapest;
      from = to + 1;
    }
    best = Math.min(best, total);
  }
  return best;
}

function costOf(segments: readonly Segment[], cost: Cost, perSegment: number, seam: Cost): number {
  return segments.reduce((sum, s) => {
    let own = perSegment;
    for (let i = s.from; i <= s.to; i++) own += cost(i, s.label) + (i > s.from ? seam(i, s.label) : 0);
    return sum + own;
  }, 0);
}

describe("cheapest segmentation", () => {
  for (let n = 1; n <= 10; n++) {
    it(`of ${n} positions is as cheap as the cheapest of all ${2 ** (n - 1)} cuttings`, () => {
      for (let seed = 0; seed < 12; seed++) {
        const u = seededRandom(1000 * n + seed);
        const labels = 1 + Math.floor(4 * u());
        const table = Array.from({ length: n * labels }, () =>
          u() < 0.1 ? Number.POSITIVE_INFINITY : Math.floor(8 * u()) / 2,
        );
        const seams = Array.from({ length: n * labels }, () => (u() < 0.3 ? 1.5 * u() : 0));
        for (let i = 0; i < n; i++) table[i * labels] = Math.min(table[i * labels], 9);
        const cost: Cost = (i, l) => table[i * labels + l];
        const seam: Cost = (i, l) => seams[i * labels + l];
        const perSegment = u();
        const found = cheapestSegmentation(n, labels, cost, perSegment, seam);
        expect(found.cost).toBeCloseTo(bruteForce(n, labels, cost, perSegment, seam), 9);
        expect(costOf(found.segments, cost, perSegment, seam)).toBeCloseTo(found.cost, 9);
        expect(found.segments.flatMap((s) => Array.from({ length: s.to - s.from + 1 }, (_, i) => s.from + i))).toEqual(
          Array.from({ length: n }, (_, i) => i),
        );
      }
    });
  }

  it("of nothing is nothing", () => {
    expect(cheapestSegmentation(0, 3, () => 1, 1)).toEqual({ cost: 0, segments: [] });
  });

  it("keeps equal neighbours together when a stretch costs something", () => {
    const { segments } = cheapestSegmentation(5, 2, (i, l) => ((i < 3 ? 0 : 1) === l ? 0 : 1), 0.1);
    expect(segments).toEqual([
      { from: 0, to: 2, label: 0 },
      { from: 3, to: 4, label: 1 },
    ]);
  });
});
