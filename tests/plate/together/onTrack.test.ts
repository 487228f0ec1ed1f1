import { describe, expect, it } from "vitest";
import { onTrack, type TrackedPlate } from "../../../src/plate/together/onTrack.ts";

const lane = (tube: number | null, ...rf: number[]) => ({
  tube,
  label: tube === null ? "crude" : String(tube),
  spots: rf.map((one) => ({ rf: one, confidence: 0.95 })),
});

const plate = (...lanes: TrackedPlate["lanes"]): TrackedPlate => ({ linesSure: 1, lanes });

describe("spots on the tracks of a run", () => {
  const run = [
    plate(lane(null, 0.6, 0.3), lane(1, 0.6), lane(2, 0.61), lane(3, 0.6, 0.45)),
    plate(lane(4, 0.6, 0.3), lane(5, 0.31), lane(6, 0.3)),
  ];
  const [first, second] = onTrack(run);

  it("lie there that other lanes make one expect, and a stray one does not", () => {
    expect(first[2][0]).toBeGreaterThan(1.2);
    expect(second[1][0]).toBeGreaterThan(1);
    expect(first[3][1]).toBeLessThan(-0.5);
  });

  it("are told nothing by marks on the start line, nor where nothing else is", () => {
    expect(onTrack([plate(lane(1, 0.01), lane(2, 0.5))])[0][1]).toEqual([0]);
    expect(onTrack([plate(lane(1, 0.5))])).toEqual([[[0]]]);
  });

  it("count less on plates whose lines may be wrong", () => {
    const doubted = [{ ...run[0], linesSure: 0.2 }, run[1]];
    expect(onTrack(doubted)[1][0][0]).toBeLessThan(second[0][0]);
  });

  it("are followed within a plate alone where no plate shows a tube", () => {
    const scouting = [plate(lane(null, 0.6), lane(null, 0.6)), plate(lane(null, 0.2), lane(null, 0.2))];
    const [a, b] = onTrack(scouting);
    expect(a[0][0]).toBe(b[0][0]);
    expect(a[0][0]).toBeGreaterThan(1);
  });
});
