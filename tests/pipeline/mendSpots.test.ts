import { describe, expect, it } from "vitest";
import type { PlateReading, SpotKey, SpotMending } from "../../src/model/index.ts";
import { mendSpots as mend } from "../../src/pipeline/mendSpots.ts";
import { plate } from "./sampleReadings.ts";

/** Three lanes at 0.25, 0.5 and 0.75; origin at 0.9, front at 0.1. */
const READ: PlateReading = plate("p1.jpg", [
  [
    [0.3, 400],
    [0.5, 900],
  ],
  [[0.5, 1200]],
  [],
]);
const key = (lane: number, rf: number): SpotKey => ({ lane: lane / 4, rf, y: 0.9 - 0.8 * rf });
/** The candidates are the spots that were read, and a faint one in the third lane. */
const FAINT = { ...READ.lanes[1].spots[0], rf: 0.2, y: 0.74, amount: 7, confidence: 0.2 };
const candidates = () => READ.lanes.map((l) => (l.index === 3 ? [FAINT] : l.spots));
const mendSpots = (read: PlateReading, mendings: readonly SpotMending[]) => mend(read, mendings, candidates);
const spots = (reading: PlateReading, lane: number) =>
  reading.lanes[lane - 1].spots.map((s) => [Number(s.rf.toFixed(3)), s.amount]);

describe("spots that a person mended", () => {
  it("a struck spot is gone, the others stay", () => {
    const { reading, unmet } = mendSpots(READ, [{ what: "spot-strike", spot: key(1, 0.31) }]);
    expect(spots(reading, 1)).toEqual([[0.5, 900]]);
    expect(spots(reading, 2)).toEqual([[0.5, 1200]]);
    expect(unmet).toEqual([]);
  });

  it("an added spot that nothing was measured of counts with the smallest amount that would have been found", () => {
    const { reading } = mendSpots(READ, [{ what: "spot-add", spot: key(3, 0.7) }]);
    expect(spots(reading, 3)).toEqual([[0.7, 1]]);
    const [added] = reading.lanes[2].spots;
    expect(added).toMatchObject({ confidence: 1, amountSd: 1, lights: ["uv254"], widthRf: 0.04 });
    expect(added.y).toBeCloseTo(0.34);
  });

  it("an added spot counts as it was measured, however faint", () => {
    const { reading } = mendSpots(READ, [{ what: "spot-add", spot: key(3, 0.21) }]);
    expect(reading.lanes[2].spots.map((s) => [s.rf, s.amount, s.confidence])).toEqual([[0.2, 7, 1]]);
  });

  it("an added spot that was read already becomes sure", () => {
    const { reading } = mendSpots(READ, [{ what: "spot-add", spot: key(2, 0.505) }]);
    expect(reading.lanes[1].spots.map((s) => [s.rf, s.confidence, s.amount])).toEqual([[0.5, 1, 1200]]);
  });

  it("a moved spot takes its amount along, to another lane too", () => {
    const { reading } = mendSpots(READ, [
      { what: "spot-move", spot: key(1, 0.3), to: key(1, 0.22) },
      { what: "spot-move", spot: key(2, 0.5), to: key(3, 0.5) },
    ]);
    expect(spots(reading, 1)).toEqual([
      [0.22, 400],
      [0.5, 900],
    ]);
    expect([spots(reading, 2), spots(reading, 3)]).toEqual([[], [[0.5, 1200]]]);
  });

  it("the order counts: struck and added again is there as it was measured", () => {
    const again = mendSpots(READ, [
      { what: "spot-strike", spot: key(2, 0.5) },
      { what: "spot-add", spot: key(2, 0.5) },
    ]);
    expect(spots(again.reading, 2)).toEqual([[0.5, 1200]]);
    const gone = mendSpots(READ, [
      { what: "spot-add", spot: key(3, 0.7) },
      { what: "spot-strike", spot: key(3, 0.7) },
    ]);
    expect(spots(gone.reading, 3)).toEqual([]);
  });

  it("Rf follows from the height on the plate where origin and front were mended since", () => {
    const shifted = { ...READ, origin: { ...READ.origin, y: 0.94 } };
    const { reading } = mendSpots(shifted, [{ what: "spot-add", spot: key(3, 0.5) }]);
    expect(reading.lanes[2].spots[0].rf).toBeCloseTo(0.44 / 0.84, 6);
  });

  it("what a new reading does not show is told, and nothing else changes", () => {
    const { reading, unmet } = mendSpots(READ, [
      { what: "spot-strike", spot: key(3, 0.4) },
      { what: "spot-strike", spot: { lane: 0.99, rf: 0.5, y: 0.5 } },
    ]);
    expect(reading).toEqual(READ);
    expect(unmet.map((u) => [u.code, u.photo, u.message])).toEqual([
      [
        "mended-spot-gone",
        "p1.jpg",
        "p1.jpg: a spot was struck by hand at Rf 0.40 in lane 3; this reading shows none there.",
      ],
      [
        "mended-spot-gone",
        "p1.jpg",
        "p1.jpg: a spot was struck by hand at Rf 0.50 in a lane that is not there any more; this reading shows none there.",
      ],
    ]);
  });
});
