import { describe, expect, it } from "vitest";
import { judgeAct } from "../../../src/decisions/index.ts";
import { type Mending, NO_DECISIONS } from "../../../src/model/index.ts";
import { laneNear, mendingsOf, rfAt, widestGap, yAt } from "../../../src/review/page/plate/mendings.ts";
import { sampleResult } from "../../report/support/sampleResult.ts";

const result = sampleResult();
const plate = result.plates[1];
const mend = mendingsOf(result, plate);
const lane = plate.lanes[2];
const spot = lane.spots[0];

/** Throws where the server would refuse it. */
const judged = (mending: Mending) => judgeAct({ kind: "mend", mending }, NO_DECISIONS, result, 0);

it("Rf and height on the plate are two words for one place", () => {
  for (const rf of [0, 0.31, 1]) expect(rfAt(plate, lane, yAt(plate, lane, rf))).toBeCloseTo(rf, 10);
  expect(yAt(plate, lane, 0)).toBeGreaterThan(yAt(plate, lane, 1));
});

it("a press belongs to the lane nearest to it, drift included", () => {
  expect(laneNear(plate, lane.x + 0.005, 0.85)?.index).toBe(lane.index);
  expect(laneNear({ ...plate, lanes: [] }, 0.5, 0.5)).toBeNull();
});

describe("every correction that the page makes is one that the server takes", () => {
  const corners = result.photos.find((p) => p.plates.includes(plate.id))!.corners[0];
  const made: Record<string, Mending> = {
    origin: mend.line("origin", plate.origin.y - 0.01),
    front: mend.line("front", plate.front.y + 0.01),
    corners: mend.corners(
      plate.photos[0],
      corners.map(([x, y]) => [x + 4, y - 3] as const),
    ),
    "lane added": mend.addLane(widestGap(plate)),
    "lane moved": mend.moveLane(lane, lane.x + 0.01),
    "lane struck": mend.strikeLane(lane),
    "lane named": mend.nameLane(lane, " 17 "),
    "spot added": mend.addSpot(lane, yAt(plate, lane, 0.9)),
    "spot moved": mend.moveSpot(lane, spot, spot.y + 0.02),
    "spot struck": mend.strikeSpot(lane, spot),
  };
  for (const [name, mending] of Object.entries(made)) it(name, () => expect(() => judged(mending)).not.toThrow());

  it("a number is a tube, a word a reference", () => {
    expect(mend.nameLane(lane, " 17 ")).toMatchObject({ lane: { label: "17", fraction: 17 } });
    expect(mend.nameLane(lane, "co-spot")).toMatchObject({ lane: { label: "co-spot", fraction: null } });
    expect(mend.nameLane(lane, "0")).toMatchObject({ lane: { fraction: null } });
  });

  it("lanes stay in order from the left", () => {
    const moved = mend.moveLane(lane, 0.99) as Extract<Mending, { what: "lanes" }>;
    expect(moved.lanes.map((l) => l.x)).toEqual(moved.lanes.map((l) => l.x).sort((a, b) => a - b));
    expect(moved.lanes.at(-1)?.fraction).toBe(lane.fraction);
  });
});

it("a further lane is expected in the widest gap, or beyond the last lane where they stand evenly", () => {
  const at = (xs: readonly number[]) =>
    widestGap({ ...plate, lanes: xs.map((x, i) => ({ ...lane, index: i + 1, x })) });
  expect(at([0.1, 0.2, 0.5, 0.6])).toBeCloseTo(0.35);
  expect(at([0.1, 0.2, 0.3])).toBeCloseTo(0.4);
  expect(at([0.7, 0.8, 0.9])).toBeCloseTo(0.6);
  expect(at([])).toBe(0.5);
});
