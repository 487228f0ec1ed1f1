import type { Quad } from "../../model/index.ts";
import type { Sketch } from "../../raster/shrink.ts";
import { contains } from "./geometry.ts";
import { judgeInside } from "./inside.ts";
import type { Judged } from "./judge.ts";

const LEAST_SMOOTH = 0.8;
const FAINT = 0.12;
const CLEAR = 0.03;

/**
 * Whether the picture is all plate: one smooth layer from border to border, with nothing in it that could be a plate's
 * rim.
 * @param judged candidates of the same sketch, best first
 * @returns a confidence, or null where it is not
 */
export function allPlate(sketch: Sketch, noise: number, judged: readonly Judged[]): number | null {
  const { width, height } = sketch;
  const frame: Quad = [
    [0, 0],
    [width, 0],
    [width, height],
    [0, height],
  ];
  const inside = judgeInside(sketch, frame, noise);
  if (inside.smooth < LEAST_SMOOTH) return null;
  const rim = judged.some((one) => {
    const shown = one.sides.filter((side) => !side.framed);
    if (one.score < 0.25 || shown.some((side) => side.coherence < 0.75)) return false;
    // Wholly inside the picture (lines drawn on a plate make no such quadrilateral), or steps too bold for such lines.
    if (contains(frame, one.quad, CLEAR * Math.min(width, height))) return true;
    const boldest = Math.max(...shown.map((side) => side.step));
    return shown.every((side) => side.step > Math.max(FAINT * inside.level, 0.3 * boldest));
  });
  return rim ? null : inside.smooth;
}
