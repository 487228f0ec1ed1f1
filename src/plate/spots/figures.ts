import { lineAt, type Spot } from "../../model/index.ts";
import type { PlateFrame } from "../frame.ts";
import type { MarkRow, SignalMap } from "../view.ts";

/** Between these Rf figures are written that stand on the start line or above it: on it itself stand its marks. */
const RF = { from: 0.025, to: 0.12 };
/** Their strokes end no farther above the start line, as a share of the height; low spots, which may be as small, stand higher. */
const ABOVE = 0.05;
/** A row of figures has so many marks at least. */
const SIGNS = 3;
/** Of all grey in the middle of a candidate this share is strokes where it is what is left of a figure. */
const STROKES = 0.4;

/**
 * Tells what is left of the lanes' figures, where these stand on the start line or above it, from spots: a sign of a row of sharp marks is
 * there, and within its half heights most of the candidate is strokes. A ring in pencil round a spot lies beyond these.
 * @param marks rows of pencil marks, one list per photo
 */
export function figureUnder(
  maps: readonly SignalMap[],
  frame: PlateFrame,
  marks: readonly (readonly MarkRow[])[],
): (spot: Spot) => boolean {
  return (spot) => {
    const { x, y, rf, responses, widthX, widthRf } = spot;
    if (rf < RF.from || rf > RF.to) return false;
    const clearest = responses.reduce((best, r) => (r.contrastToNoise > best.contrastToNoise ? r : best));
    const { width, height, strokes, grey } = maps[clearest.photo];
    const [column, row] = [x * width, y * height];
    const signs = (marks[clearest.photo] ?? []).filter((one) => !one.broad && one.marks.length >= SIGNS);
    const lowest = (lineAt(frame.origin, x) - ABOVE) * height;
    const on = signs.some((one) =>
      one.marks.some((m) => column > m.x0 && column < m.x1 && row > m.y0 && row < m.y1 && m.y1 > lowest),
    );
    if (!on) return false;
    const halfWide = Math.max(1, 0.5 * widthX * width);
    const halfHigh = Math.max(1, 0.5 * widthRf * (lineAt(frame.origin, x) - lineAt(frame.front, x)) * height);
    let [thin, all] = [0, 0];
    for (let j = Math.round(row - halfHigh); j < row + halfHigh && j < height; j++)
      for (let i = Math.max(0, Math.round(column - halfWide)); i < column + halfWide && i < width; i++) {
        thin += Math.max(0, strokes.data[j * width + i]);
        all += Math.max(0, grey.data[j * width + i]);
      }
    return thin > STROKES * all;
  };
}
