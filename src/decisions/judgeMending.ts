import {
  type ComponentMending,
  type GivenLane,
  type Mending,
  PlatepoolError,
  type Quad,
  type Result,
  type ResultPlate,
  type SpotKey,
} from "../model/index.ts";
import { sameComponent, sameLane, sameSpot } from "./matching.ts";
import { findPlate } from "./plates.ts";
import { rfInWords } from "./words.ts";

/** Origin and front closer than this, as a fraction of the plate's height, leave no way to measure. */
const LEAST_WAY = 0.1;
/** Lanes closer than this, as a fraction of the plate's width, are one. */
const LEAST_PITCH = 0.012;
const MOST_LANES = 40;
const HIGHEST_TUBE = 2000;
const LONGEST_LABEL = 40;

/** As `judgeAct`, for what mends the reading. Values that no hand could mean are refused, doubtful ones are not. */
export function judgeMending(mending: Mending, result: Result): void {
  if (mending.what === "components-merge" || mending.what === "component-split") {
    judgeComponents(mending, result);
    return;
  }
  const plate = findPlate(result, mending.plate);
  if (plate === null)
    throw fault("decision-plate", `${mending.plate.photos[0] ?? "that photo"}: shows no such plate now`);
  switch (mending.what) {
    case "corners":
      judgeCorners(mending.photo, mending.corners, plate, result);
      break;
    case "origin":
      judgeWay(mending.y, plate.front.y);
      break;
    case "front":
      judgeWay(plate.origin.y, mending.y);
      break;
    case "lanes":
      judgeLanes(mending.lanes);
      break;
    case "lane-name":
      judgeLane(mending.lane);
      laneAt(plate, mending.lane.x);
      break;
    case "spot-add":
      judgeSpot(plate, mending.spot);
      break;
    case "spot-move":
      knownSpot(plate, mending.spot);
      judgeSpot(plate, mending.to);
      break;
    case "spot-strike":
      knownSpot(plate, mending.spot);
      break;
  }
}

function judgeComponents(mending: ComponentMending, result: Result): void {
  const find = (rf: number) => {
    const found = sameComponent(result.components, rf);
    if (found === null) throw fault("decision-component", `no component stands at ${rfInWords(rf)} now`);
    return found;
  };
  if (mending.what === "component-split") {
    find(mending.rf);
    if (!(mending.at > 0 && mending.at < 1)) throw fault("decision-component", "the cut lies between Rf 0 and Rf 1");
    return;
  }
  if (find(mending.rf[0]) === find(mending.rf[1]))
    throw fault("decision-component", "name two components that are to count as one");
}

/** A convex quadrilateral, clockwise as the corners are listed, that reaches at most a third outside the photo. */
function judgeCorners(photo: string, corners: Quad, plate: ResultPlate, result: Result): void {
  const shown = result.photos.find((p) => p.file === photo);
  if (!shown || !plate.photos.includes(photo)) throw fault("decision-place", `${photo}: is no photo of this plate`);
  const turns = corners.map(([x, y], i) => {
    const [x1, y1] = corners[(i + 1) % 4];
    const [x2, y2] = corners[(i + 2) % 4];
    return (x1 - x) * (y2 - y1) - (y1 - y) * (x2 - x1);
  });
  const least = 1e-4 * shown.width * shown.height;
  if (!turns.every((t) => t > least))
    throw fault(
      "decision-place",
      "the corners must go round the plate: top left, top right, bottom right, bottom left",
    );
  const inside = ([x, y]: readonly [number, number]) =>
    x > -shown.width / 3 && x < (4 / 3) * shown.width && y > -shown.height / 3 && y < (4 / 3) * shown.height;
  if (!corners.every(inside)) throw fault("decision-place", "a corner lies far outside the photo");
}

function judgeWay(origin: number, front: number): void {
  if (!(front > -0.1 && origin < 1.1)) throw fault("decision-place", "origin and front lie on the plate");
  if (!(origin - front >= LEAST_WAY))
    throw fault("decision-place", "the front lies above the origin, a tenth of the plate at least");
}

function judgeLanes(lanes: readonly GivenLane[]): void {
  if (lanes.length === 0) throw fault("decision-lane", "a plate has one lane at least");
  if (lanes.length > MOST_LANES) throw fault("decision-lane", `a plate has at most ${MOST_LANES} lanes`);
  for (const lane of lanes) judgeLane(lane);
  if (lanes.some((lane, i) => i > 0 && lane.x - lanes[i - 1].x < LEAST_PITCH))
    throw fault("decision-lane", "lanes stand from left to right, apart from each other");
}

function judgeLane({ x, label, fraction }: GivenLane): void {
  if (!(x >= 0 && x <= 1)) throw fault("decision-lane", "a lane lies on the plate");
  if (fraction !== null && !(Number.isInteger(fraction) && fraction >= 1 && fraction <= HIGHEST_TUBE))
    throw fault("decision-lane", `a tube is a whole number from 1 to ${HIGHEST_TUBE}`);
  if (label.trim() === "" || [...label].length > LONGEST_LABEL || /[\p{Cc}\p{Zl}\p{Zp}]/u.test(label))
    throw fault("decision-lane", `a lane's name is one line of at most ${LONGEST_LABEL} characters`);
}

function laneAt(plate: ResultPlate, x: number) {
  const lane = sameLane(plate.lanes, x);
  if (lane === null) throw fault("decision-lane", "no lane stands there");
  return plate.lanes[lane];
}

function judgeSpot(plate: ResultPlate, spot: SpotKey): void {
  laneAt(plate, spot.lane);
  if (!(spot.rf >= -0.05 && spot.rf <= 1.05 && spot.y >= 0 && spot.y <= 1))
    throw fault("decision-spot", "a spot lies between origin and front");
}

function knownSpot(plate: ResultPlate, spot: SpotKey): void {
  const lane = laneAt(plate, spot.lane);
  if (sameSpot(lane.spots, spot) === null)
    throw fault("decision-spot", `lane ${lane.label} shows no spot at ${rfInWords(spot.rf)} now`);
}

function fault(code: string, message: string): PlatepoolError {
  return new PlatepoolError(code, message);
}
