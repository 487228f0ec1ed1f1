import { describe, expect, it } from "vitest";
import { plannedPlaces } from "../../src/elution/profiles/planned.ts";
import type { ExpectedBand } from "../../src/model/index.ts";
import { decide } from "./support/decide.ts";
import { drawnPlates } from "./support/drawing.ts";

// Tubes 8 to 12 hold what nobody spotted; B has just begun.
const BEGUN = drawnPlates(`
  rf   1 2 3 4 5 6 7
  0.60 . 5 8 8 5 . .
  0.35 . . . . . 3 6
`);
// Every tube spotted, everything plain.
const PLAIN = drawnPlates(`
  rf   1 2 3 4 5 6 7 8 9 10 11 12
  0.60 . 5 8 8 5 . . . . .  .  .
  0.35 . . . . . 3 6 8 8 7  4  .
`);

function decided(plates: typeof BEGUN, expected?: readonly ExpectedBand[]) {
  return decide(plates, { fractionCount: 12, ...(expected && { expected }) }).value;
}

const AGREES = [
  { rf: 0.6, tube: 3, sd: 1 },
  { rf: 0.35, tube: 9, sd: 1.2 },
];
const CONTRADICTS = [
  { rf: 0.6, tube: 10, sd: 1 },
  { rf: 0.35, tube: 3, sd: 1.2 },
];

describe("a plan as weak evidence", () => {
  it("makes surer where it agrees and nobody looked", () => {
    const without = decided(BEGUN);
    const withPlan = decided(BEGUN, AGREES);
    const cleanB = (v: typeof without, tube: number) => v.fractions[tube - 1].odds.clean;
    for (const tube of [9, 10]) expect(cleanB(withPlan, tube)).toBeGreaterThan(cleanB(without, tube) + 0.02);
    for (const f of withPlan.fractions) expect(f.seen).toBe(f.number <= 7);
  });

  it("loses to the plates where it contradicts them", () => {
    expect(decided(PLAIN, CONTRADICTS)).toEqual(decided(PLAIN));
    expect(decided(BEGUN, CONTRADICTS)).toEqual(decided(BEGUN));
  });

  it("leaves what the plates show plainly as it was, agreeing or a little off", () => {
    for (const shift of [1, 1.25]) {
      const plan = AGREES.map((b) => ({ ...b, tube: b.tube * shift }));
      const pools = (v: ReturnType<typeof decided>) => v.pools.map((p) => [p.kind, p.fractions.join()]);
      expect(pools(decided(PLAIN, plan))).toEqual(pools(decided(PLAIN)));
    }
  });

  it("changes nothing where there is none", () => {
    expect(JSON.stringify(decided(PLAIN, []))).toBe(JSON.stringify(decided(PLAIN)));
  });

  it("is stretched to the column as it ran, and given up where peaks come in another order", () => {
    const settled = { settled: true };
    const seen = [
      { rf: 0.6, tube: 6, ...settled },
      { rf: 0.4, tube: 12, ...settled },
      { rf: 0.2, tube: null, settled: false },
    ];
    const plan = [
      { rf: 0.62, tube: 5, sd: 1 },
      { rf: 0.41, tube: 10, sd: 1 },
      { rf: 0.2, tube: 20, sd: 2 },
    ];
    const [, , third] = plannedPlaces(seen, plan);
    expect(third?.tube).toBeCloseTo(24, 6);
    expect(third?.sd).toBeGreaterThan(3);
    const turned = [{ ...seen[0], tube: 12 }, { ...seen[1], tube: 6 }, seen[2]];
    expect(plannedPlaces(turned, plan)).toEqual([null, null, null]);
  });
});
