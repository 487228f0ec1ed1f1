import type { Finding, PlateReading } from "../model/index.ts";

/** How far two readings of one plate may lie apart, in plate fractions (heights, lanes) and as a share (aspect). */
const LINES = 0.012;
const LANES = 0.012;
const ASPECT = 0.03;

/**
 * Plates that nobody listed and that look like one plate under two lights: the same shape, origin, front and lanes, but
 * not the same light. They were read as two; the doubt is said.
 */
export function sameAgain(plates: readonly PlateReading[]): Finding[] {
  return plates.flatMap((plate, i): Finding[] => {
    const twin = plates.slice(0, i).find((earlier) => alike(earlier, plate));
    if (twin === undefined) return [];
    const [a, b] = [twin.photos[0].file, plate.photos[0].file];
    return [
      {
        code: "perhaps-one-plate",
        message: `${a} and ${b} may show one plate under two lights; they are read as two plates.`,
        remedy: "List the plates in run.yaml, or name the photos alike (p1-254, p1-stain).",
        where: { plate: plate.id, photo: b },
      },
    ];
  });
}

function alike(a: PlateReading, b: PlateReading): boolean {
  const lights = new Set(a.photos.map((p) => p.light));
  return (
    a.lanes.length === b.lanes.length &&
    a.lanes.length > 0 &&
    !b.photos.some((p) => lights.has(p.light)) &&
    Math.abs(a.aspect / b.aspect - 1) < ASPECT &&
    a.origin.source === "found" &&
    b.origin.source === "found" &&
    Math.abs(a.origin.y - b.origin.y) < LINES &&
    Math.abs(a.front.y - b.front.y) < LINES &&
    a.lanes.every((lane, i) => Math.abs(lane.x - b.lanes[i].x) < LANES)
  );
}
