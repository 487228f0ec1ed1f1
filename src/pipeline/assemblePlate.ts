import type {
  ElutionReading,
  Lane,
  MigrationLine,
  PlateReading,
  ResultLine,
  ResultPlate,
  ResultSpot,
  SpotAssignment,
} from "../model/index.ts";
import { listedConfidence, type ScaleSigns, scaleSigns } from "./listedConfidence.ts";
import { fine, pixel, significant } from "./round.ts";

/** One plate in the result's shape. */
export function resultPlate(
  reading: PlateReading,
  { assignments, components }: Pick<ElutionReading, "assignments" | "components">,
): ResultPlate {
  const { id, photos, aspect, origin, front, lanes } = reading;
  const own = assignments.filter((a) => a.plate === id);
  const signs = scaleSigns(reading, own, components);
  return {
    id,
    photos: photos.map((p) => p.file),
    corners: photos[0].corners.map(([x, y]) => [pixel(x), pixel(y)] as const),
    aspect: fine(aspect),
    origin: resultLine(origin),
    front: resultLine(front),
    lanes: lanes.map((lane) => ({
      index: lane.index,
      label: lane.label,
      fraction: lane.fraction,
      x: fine(lane.x),
      drift: fine(lane.drift),
      spots: resultSpots(lane, own, signs),
    })),
  };
}

function resultLine({ y, source, tilt, bow }: MigrationLine): ResultLine {
  return { y: fine(y), source, tilt: fine(tilt), bow: fine(bow) };
}

function resultSpots(lane: Lane, assignments: readonly SpotAssignment[], signs: ScaleSigns): ResultSpot[] {
  return lane.spots.map((spot, i) => ({
    rf: fine(spot.rf),
    rf_sd: fine(spot.rfSd),
    amount: significant(spot.amount),
    amount_sd: significant(spot.amountSd),
    component: assignments.find((a) => a.lane === lane.index && a.spot === i)?.component ?? null,
    confidence: fine(listedConfidence(spot, signs)),
    flags: spot.flags,
    lights: spot.lights,
    x: fine(spot.x),
    y: fine(spot.y),
    width_rf: fine(spot.widthRf),
    width_x: fine(spot.widthX),
    tailing: fine(spot.tailing),
  }));
}
