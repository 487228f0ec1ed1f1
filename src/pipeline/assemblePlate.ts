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

/**
 * One plate in the result's shape.
 * @param onTrack how well each spot lies on the tracks of the run's others, by lane
 */
export function resultPlate(
  reading: PlateReading,
  { assignments, components }: Pick<ElutionReading, "assignments" | "components">,
  onTrack: readonly (readonly number[])[],
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
    lanes: lanes.map((lane, l) => ({
      index: lane.index,
      label: lane.label,
      fraction: lane.fraction,
      x: fine(lane.x),
      drift: fine(lane.drift),
      spots: resultSpots(lane, own, onTrack[l], signs),
    })),
  };
}

function resultLine({ y, source, tilt, bow }: MigrationLine): ResultLine {
  return { y: fine(y), source, tilt: fine(tilt), bow: fine(bow) };
}

function resultSpots(
  lane: Lane,
  assignments: readonly SpotAssignment[],
  onTrack: readonly number[],
  signs: ScaleSigns,
): ResultSpot[] {
  return lane.spots.map((spot, i) => ({
    rf: fine(spot.rf),
    rf_sd: fine(spot.rfSd),
    amount: significant(spot.amount),
    amount_sd: significant(spot.amountSd),
    component: assignments.find((a) => a.lane === lane.index && a.spot === i)?.component ?? null,
    confidence: fine(listedConfidence(spot, onTrack[i], signs)),
    flags: spot.flags,
    lights: spot.lights,
    x: fine(spot.x),
    y: fine(spot.y),
    width_rf: fine(spot.widthRf),
    width_x: fine(spot.widthX),
    tailing: fine(spot.tailing),
  }));
}
