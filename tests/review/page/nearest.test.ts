import { describe, expect, it } from "vitest";
import type { ResultPlate, ResultSpot } from "../../../src/model/index.ts";
import { sizeOfMarks } from "../../../src/review/page/plate/marks.ts";
import { nearestHeld } from "../../../src/review/page/plate/nearest.ts";
import { sampleResult } from "../../report/support/sampleResult.ts";

const whole = sampleResult({ tubes: 8, lanesPerPlate: 8 }).plates[0];
const spot = (y: number, x: number): ResultSpot => ({ ...whole.lanes.flatMap((l) => l.spots)[0], x, y });
const [W, H] = [400, 500];
/** Two spots 12 pixels apart in lane 1, nothing in the others. */
const plate: ResultPlate = {
  ...whole,
  lanes: whole.lanes.map((lane, i) => ({
    ...lane,
    spots: i === 0 ? [spot(0.4, lane.x), spot(0.4 + 12 / H, lane.x)] : [],
  })),
};
const x = plate.lanes[0].x * W;
const size = sizeOfMarks(plate, W, H);

describe("a press on a straightened plate", () => {
  it("means the nearer one of two spots that stand closer than a finger is wide", () => {
    expect(nearestHeld(plate, { x, y: 0.4 * H - 3 }, size, 22)).toEqual({ what: "spot", lane: 1, spot: 0 });
    expect(nearestHeld(plate, { x, y: 0.4 * H + 15 }, size, 22)).toEqual({ what: "spot", lane: 1, spot: 1 });
  });

  it("beside everything means what is within a finger of it, and further away nothing", () => {
    const ry = (held: number) => nearestHeld(plate, { x, y: 0.4 * H - held }, size, 22);
    expect(ry(20)).toEqual({ what: "spot", lane: 1, spot: 0 });
    expect(ry(70)).toBeNull();
  });

  it("on a line means the line, on a lane's label the lane", () => {
    const between = ((plate.lanes[0].x + plate.lanes[1].x) / 2) * W;
    expect(nearestHeld(plate, { x: between, y: plate.front.y * H }, size, 4)).toEqual({ what: "front" });
    for (const lane of plate.lanes) {
      const held = nearestHeld(plate, { x: lane.x * W, y: 0.965 * H }, size, 22);
      expect(held).toEqual({ what: "lane", lane: lane.index });
    }
  });
});
