import { describe, expect, it } from "vitest";
import { evenAmounts } from "../../src/elution/profiles/evenAmounts.ts";
import type { PlateReading } from "../../src/model/index.ts";
import { decide } from "./support/decide.ts";
import { drawnPlates } from "./support/drawing.ts";

/** The plate as its areas would be read were they `times` as large, of spots and of what is just found. */
function withAreas(plate: PlateReading, times: (tube: number) => number): PlateReading {
  return {
    ...plate,
    lanes: plate.lanes.map((lane) => ({
      ...lane,
      detectionLimit: lane.detectionLimit.map((l) => l * times(0)),
      spots: lane.spots.map((spot) => ({
        ...spot,
        responses: spot.responses.map((r) => {
          const factor = times(lane.fraction ?? 0);
          return { ...r, amount: r.amount * factor, amountSd: r.amountSd * factor };
        }),
      })),
    })),
  };
}

const amounts = (plates: readonly PlateReading[]) =>
  plates.flatMap((p) => p.lanes.flatMap((l) => l.spots.map((s) => s.responses[0].amount)));

const [first, second] = drawnPlates(`
  rf   1 2 3 4 5 6 | 7 8 9 10 11 12
  0.60 3 4 4 5 4 4 | 3 3 4 4  5  3
`);

describe("amounts made even", () => {
  it("leaves them as they are where height and area say the same", () => {
    const read = [first, second];
    evenAmounts(read).forEach((plate, p) => {
      amounts([plate]).forEach((a, i) => {
        expect(a / amounts([read[p]])[i]).toBeCloseTo(1, 6);
      });
    });
  });

  it("brings a plate whose areas count in another unit back to that of the others, what would be found with it", () => {
    const narrow = withAreas(second, () => 1.5);
    const [usual, even] = evenAmounts([first, narrow]).map((plate) => ({ plate, spot: amounts([plate])[0] }));
    expect(Math.abs(Math.log(even.spot / usual.spot))).toBeLessThan(0.3 * Math.log(1.5));
    const limits = [usual, even].map(({ plate }) => plate.lanes[0].detectionLimit[0]);
    expect(Math.abs(Math.log(limits[1] / limits[0]))).toBeLessThan(0.5 * Math.log(1.5));
  });

  it("trusts the height of a weak spot more than its area", () => {
    const swollen = withAreas(first, (tube) => (tube === 1 ? 3 : 1));
    const log = Math.log(amounts(evenAmounts([swollen, second]))[0] / amounts([first])[0]);
    expect(log).toBeGreaterThan(0);
    expect(log).toBeLessThan(0.4 * Math.log(3));
  });
});

it("a tube nobody spotted between faint spots that do not count as visible is not called mixed for them", () => {
  const plates = drawnPlates(`
    rf   1 2 3 5 6 7 9
    0.60 3 4 4 4 4 3 3
    0.35 . . 0 0 0 . .
  `).map((plate) => ({
    ...plate,
    lanes: plate.lanes.map((lane) => ({
      ...lane,
      detectionLimit: [0.1],
      spots: lane.spots.map((spot) =>
        spot.rf > 0.4
          ? spot
          : {
              ...spot,
              responses: spot.responses.map((r) => ({
                ...r,
                contrastToNoise: 2.6,
                peak: 0.003,
                colour: [0.002, 0.003, 0.002] as const,
              })),
            },
      ),
    })),
  }));
  const { value } = decide(plates);
  const [spotted, unspotted] = [value.fractions[2], value.fractions[3]];
  expect(spotted.state).toBe("clean");
  expect(unspotted.state).toBe("clean");
});
