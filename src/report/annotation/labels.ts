import { rfInWords } from "../words.ts";
import type { Box, LaneShape } from "./plateShapes.ts";
import { strokeText, strokeTextWidth } from "./strokeFont.ts";

/** Cap height for the spots' labels: as large as the lanes leave room for, within reason for the plate. */
export function labelHeight(lanes: readonly LaneShape[], plateSize: number): number {
  const room = Math.min(...lanes.map((l) => l.room));
  const perUnit = strokeTextWidth("A 0.00", 1);
  const fitting = Number.isFinite(room) ? (room * 0.84) / perUnit : plateSize * 0.024;
  return Math.min(plateSize * 0.024, Math.max(plateSize * 0.011, fitting));
}

/** Component letter and Rf of each spot, set below, above, right or left of it, wherever it covers least. */
export function spotLabels(
  lanes: readonly LaneShape[],
  height: number,
  letter: (component: string | null) => string,
  picture: Box,
): string {
  const taken: Box[] = lanes.flatMap((l) => l.spots.map((s) => s.box));
  const spots = lanes.flatMap((l) => l.spots).sort((a, b) => a.box.y0 - b.box.y0 || a.box.x0 - b.box.x0);
  return spots
    .map(({ spot, box }) => {
      const text = `${letter(spot.component)} ${rfInWords(spot.rf)}`;
      const w = strokeTextWidth(text, height) / 2;
      const cx = (box.x0 + box.x1) / 2;
      const cy = (box.y0 + box.y1) / 2;
      const off = height * 1.15;
      const places = [
        [cx, box.y1 + off],
        [cx, box.y0 - off],
        [box.x1 + w + off * 0.5, cy],
        [box.x0 - w - off * 0.5, cy],
      ].map(([x, y]) => ({ x, y, box: { x0: x - w, y0: y - height * 0.7, x1: x + w, y1: y + height * 0.7 } }));
      const cost = (b: Box) => taken.reduce((sum, t) => sum + overlap(b, t), 0) + area(b) - overlap(b, picture);
      const best = places.reduce((a, b) => (cost(b.box) < cost(a.box) - 1e-9 ? b : a));
      taken.push(best.box);
      return strokeText(text, best.x, best.y, height);
    })
    .join("");
}

/** Lane labels below the origin, made smaller, and then shorter, where the lanes are close. */
export function laneLabels(lanes: readonly LaneShape[], height: number): string {
  return lanes
    .map(({ label, at, room }) => {
      const fits = (text: string, h: number) => strokeTextWidth(text, h) <= room * 0.92;
      const small = height * 0.75;
      if (fits(label, height)) return strokeText(label, at[0], at[1], height);
      const fitting = (room * 0.92) / strokeTextWidth(label, 1);
      if (fitting >= small) return strokeText(label, at[0], at[1], fitting);
      const chars = [...label];
      let n = chars.length - 1;
      while (n > 1 && !fits(`${chars.slice(0, n).join("")}.`, small)) n--;
      return strokeText(`${chars.slice(0, n).join("")}.`, at[0], at[1], small);
    })
    .join("");
}

function area(b: Box): number {
  return (b.x1 - b.x0) * (b.y1 - b.y0);
}

function overlap(a: Box, b: Box): number {
  const w = Math.min(a.x1, b.x1) - Math.max(a.x0, b.x0);
  const h = Math.min(a.y1, b.y1) - Math.max(a.y0, b.y0);
  return w > 0 && h > 0 ? w * h : 0;
}
