import type { Point, Result, ResultPlate } from "../../../src/model/index.ts";
import type { PhotoTruth, PlateTruth, RunTruth } from "../../../src/render/index.ts";

/** How one photo of one plate was found. */
export interface PlateSighting {
  readonly photo: number;
  readonly found: boolean;
  /** Mean distance of the four corners over the plate's diagonal, or null where not found. */
  readonly cornerError: number | null;
  /** Quarter turns by which the reader's top differs from the true one. */
  readonly turned: number;
  readonly plateId: string | null;
  readonly status: string;
}

export interface PlateMatch {
  readonly truth: PlateTruth;
  readonly read: ResultPlate | null;
  readonly sightings: readonly PlateSighting[];
}

/** Corners farther off than this share of the diagonal are those of something else. */
const FOUND_WITHIN = 0.05;

/** Mean corner distance over the true diagonal, for the best of the four ways round. */
export function cornerDistance(truth: readonly Point[], read: readonly Point[]): { error: number; turned: number } {
  const diagonal = Math.hypot(truth[2][0] - truth[0][0], truth[2][1] - truth[0][1]);
  let best = { error: Number.POSITIVE_INFINITY, turned: 0 };
  for (let turned = 0; turned < 4; turned++) {
    const sum = truth.reduce((total, [x, y], i) => {
      const [rx, ry] = read[(i + turned) % 4];
      return total + Math.hypot(x - rx, y - ry);
    }, 0);
    if (sum / 4 / diagonal < best.error) best = { error: sum / 4 / diagonal, turned };
  }
  return best;
}

function sight(photo: PhotoTruth, index: number, plate: PlateTruth, result: Result): PlateSighting {
  const corners = photo.plates.find((p) => p.plate === plate.id)!.corners;
  const seen = result.photos.find((p) => p.file === photo.file);
  const none = { photo: index, found: false, cornerError: null, turned: 0, plateId: null };
  if (!seen) return { ...none, status: "absent" };
  if (seen.status === "rejected") return { ...none, status: `rejected: ${seen.reason}` };
  const candidates = seen.corners.map((quad, i) => ({ ...cornerDistance(corners, quad), id: seen.plates[i] }));
  const best = candidates.sort((a, b) => a.error - b.error)[0];
  if (!best || best.error > FOUND_WITHIN) return { ...none, status: "elsewhere" };
  return { photo: index, found: true, cornerError: best.error, turned: best.turned, plateId: best.id, status: "read" };
}

/** Pairs each true plate with the plate that was read at its place. */
export function matchPlates(truth: RunTruth, result: Result): PlateMatch[] {
  return truth.plates.map((plate) => {
    const sightings = plate.photos.map((index) => sight(truth.photos[index], index, plate, result));
    const id = sightings.find((s) => s.plateId !== null)?.plateId ?? null;
    return { truth: plate, read: result.plates.find((p) => p.id === id) ?? null, sightings };
  });
}
