import { rfInWords } from "../words.ts";
import type { Box, LaneShape, SpotShape } from "./plateShapes.ts";
import { strokeText, strokeTextWidth } from "./strokeFont.ts";

/** Cap height for the spots' labels: as large as the lanes leave room for, within reason for the plate. */
export function labelHeight(lanes: readonly LaneShape[], plateSize: number): number {
  const room = Math.min(...lanes.map((l) => l.room));
  const perUnit = strokeTextWidth("A 0.00", 1);
  const fitting = Number.isFinite(room) ? (room * 0.84) / perUnit : plateSize * 0.024;
  return Math.min(plateSize * 0.024, Math.max(plateSize * 0.011, fitting));
}

/** Below this confidence a spot of no component is ringed without its Rf. */
const LABEL_FROM = 0.5;

/**
 * Component letter and Rf of each spot, set around it wherever it covers least; spots of a component choose first.
 * @param taken what is not to be covered besides the spots themselves
 */
export function spotLabels(
  lanes: readonly LaneShape[],
  height: number,
  letter: (component: string) => string,
  picture: Box,
  taken: readonly Box[],
): string {
  const spots = lanes
    .flatMap((l) => l.spots)
    .filter((s) => s.spot.component !== null || s.spot.confidence >= LABEL_FROM);
  const covered: Box[] = [...taken, ...spots.map((s) => s.box)];
  const rank = (s: SpotShape) => (s.spot.component === null ? 1 : 0);
  return spots
    .sort((a, b) => rank(a) - rank(b) || a.box.y0 - b.box.y0 || a.box.x0 - b.box.x0)
    .map(({ spot, box }) => {
      const rf = rfInWords(spot.rf);
      const text = spot.component === null ? rf : `${letter(spot.component)} ${rf}`;
      const places = placesAround(box, strokeTextWidth(text, height) / 2, height);
      const cost = (p: Place) =>
        covered.reduce((sum, t) => sum + overlap(p.box, t), 0) +
        2 * (area(p.box) - overlap(p.box, picture)) +
        p.stray * area(p.box);
      const best = places.reduce((a, b) => (cost(b) < cost(a) - 1e-9 ? b : a));
      covered.push(best.box);
      return strokeText(text, best.x, best.y, height);
    })
    .join("");
}

interface Place {
  readonly x: number;
  readonly y: number;
  readonly box: Box;
  /** How easily the label is taken for a neighbour's, as a share of its own area. */
  readonly stray: number;
}

/** Places for a label of half-width w: below, above, right, left, and the corners, which are the least clear. */
function placesAround(box: Box, w: number, height: number): Place[] {
  const cx = (box.x0 + box.x1) / 2;
  const cy = (box.y0 + box.y1) / 2;
  const [above, below] = [box.y0 - height * 1.15, box.y1 + height * 1.15];
  const [left, right] = [box.x0 - w - height * 0.6, box.x1 + w + height * 0.6];
  const places = [
    [cx, below],
    [cx, above],
    [right, cy],
    [left, cy],
    [right, below],
    [left, below],
    [right, above],
    [left, above],
  ];
  return places.map(([x, y], i) => ({
    x,
    y,
    box: { x0: x - w, y0: y - height * 0.7, x1: x + w, y1: y + height * 0.7 },
    stray: i < 2 ? 0 : i < 4 ? 0.05 : 0.25,
  }));
}

/** A label with its place and size. */
export interface PlacedText {
  readonly text: string;
  readonly x: number;
  readonly y: number;
  readonly height: number;
}

/** Room that a placed label takes, halo included. */
export function boxOf({ text, x, y, height }: PlacedText): Box {
  const w = strokeTextWidth(text, height) / 2 + height * 0.2;
  return { x0: x - w, y0: y - height * 0.7, x1: x + w, y1: y + height * 0.7 };
}

/** Lane labels below the origin, made smaller, and then shorter, where the lanes are close. */
export function laneLabels(lanes: readonly LaneShape[], height: number): PlacedText[] {
  return lanes.map(({ label, at, room }) => {
    const [x, y] = at;
    const fits = (text: string, h: number) => strokeTextWidth(text, h) <= room * 0.92;
    const small = height * 0.75;
    if (fits(label, height)) return { text: label, x, y, height };
    const fitting = (room * 0.92) / strokeTextWidth(label, 1);
    if (fitting >= small) return { text: label, x, y, height: fitting };
    const chars = [...label];
    let n = chars.length - 1;
    while (n > 1 && !fits(`${chars.slice(0, n).join("")}.`, small)) n--;
    return { text: `${chars.slice(0, n).join("")}.`, x, y, height: small };
  });
}

function area(b: Box): number {
  return (b.x1 - b.x0) * (b.y1 - b.y0);
}

function overlap(a: Box, b: Box): number {
  const w = Math.min(a.x1, b.x1) - Math.max(a.x0, b.x0);
  const h = Math.min(a.y1, b.y1) - Math.max(a.y0, b.y0);
  return w > 0 && h > 0 ? w * h : 0;
}
