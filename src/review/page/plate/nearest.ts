import { lineAt, type ResultPlate } from "../../../model/index.ts";
import { placeLane } from "../../../report/drawing/placement.ts";
import { type At, footOf, type Held, sizeOfSpot, type TabSize } from "./marks.ts";

/** A gloved finger covers so much around the place it means, CSS pixels: half of a 44 px target. */
export const FINGER = 22;

/** How far something is from a point, and its middle, for points that lie in several. */
interface Target {
  readonly held: Held;
  readonly away: number;
  readonly off: number;
}

/**
 * What a press on a straightened plate means: of lines, lanes' labels and spots the one nearest to it, so that marks which
 * stand closer than a finger is wide can each be had.
 * @param at in pixels of the picture, w x h
 * @param reach how far off it may be, same unit
 * @returns null where nothing is so near
 */
export function nearestHeld(plate: ResultPlate, at: At, size: TabSize, reach: number): Held | null {
  const near = targets(plate, at, size).filter((t) => t.away <= reach);
  const first = near.reduce<Target | null>((best, t) => (best === null || isNearer(t, best) ? t : best), null);
  return first?.held ?? null;
}

function isNearer(a: Target, b: Target): boolean {
  return a.away < b.away || (a.away === b.away && a.off < b.off);
}

function targets(plate: ResultPlate, at: At, size: TabSize): Target[] {
  const { w, h, unit } = size;
  const lines = (["origin", "front"] as const).map((what): Target => {
    const off = Math.abs(lineAt({ ...plate[what], sd: 0 }, at.x / w) * h - at.y);
    return { held: { what }, away: off, off };
  });
  const lanes = plate.lanes.map((lane): Target => {
    const [dx, dy] = [at.x - lane.x * w, at.y - footOf(plate, lane) * h];
    const away = Math.hypot(beyond(dx, size.tab(lane.label) / 2), beyond(dy, 12 * unit));
    return { held: { what: "lane", lane: lane.index }, away, off: Math.hypot(dx, dy) };
  });
  const spots = plate.lanes.flatMap((lane) =>
    lane.spots.map((spot, i): Target => {
      const { rx, ry } = sizeOfSpot(placeLane(plate, lane), spot, size);
      const [dx, dy] = [at.x - spot.x * w, at.y - spot.y * h];
      const away = Math.hypot(beyond(dx, rx), beyond(dy, ry));
      return { held: { what: "spot", lane: lane.index, spot: i }, away, off: Math.hypot(dx, dy) };
    }),
  );
  return [...lines, ...lanes, ...spots];
}

/** How far a way leads out of a half-width. */
function beyond(way: number, half: number): number {
  return Math.max(0, Math.abs(way) - half);
}
