import type { Quad } from "../../model/index.ts";
import { applyHomography, homographyFrom, rectangle } from "../../raster/homography.ts";
import type { Picture } from "../../raster/picture.ts";
import { warpPicture } from "../../raster/warp.ts";
import { overlapShare, quadArea } from "./geometry.ts";
import { refinedTwice } from "./refine.ts";
import { enlarge, look, sketchScale } from "./sketchView.ts";

/** Sheets that are looked at from near, and how well shown, how large (share of the picture) and how much apart they are. */
const SHEETS = { most: 2, score: 0.3, area: 0.1, apart: 0.9 };
/** Share of a sheet at each side that is its rim, and pixels of its longer side. */
const RIM = 0.03;
const LONG_SIDE = 900;

/**
 * All that may be the outline of a plate, whatever is on it: the candidates of the photo, and those on the sheets that it shows, which
 * are straightened and looked at from near, for a plate is shown faintly beside the rim of the paper that it lies on.
 * @returns corners in pixels of the picture, clockwise, right to a few pixels
 */
export function outlinesIn(picture: Picture): Quad[] {
  const scale = sketchScale(picture);
  const seen = look(picture, scale, () => true).judged;
  const sheets: Quad[] = [];
  for (const one of seen) {
    const quad = enlarge(one.quad, scale);
    if (sheets.length >= SHEETS.most) break;
    if (one.score < SHEETS.score || quadArea(quad) < SHEETS.area * picture.width * picture.height) continue;
    if (sheets.every((sheet) => !sameSheet(sheet, quad))) sheets.push(quad);
  }
  return [...seen.map((one) => enlarge(one.quad, scale)), ...sheets.flatMap((sheet) => onSheet(picture, sheet))];
}

function sameSheet(a: Quad, b: Quad): boolean {
  const [p, q] = [quadArea(a), quadArea(b)];
  return Math.min(p, q) > SHEETS.apart * Math.max(p, q) && overlapShare(a, b) > SHEETS.apart;
}

function onSheet(picture: Picture, sheet: Quad): Quad[] {
  const side = (i: number, j: number) => Math.hypot(sheet[i][0] - sheet[j][0], sheet[i][1] - sheet[j][1]);
  const [across, down] = [side(0, 1) + side(3, 2), side(0, 3) + side(1, 2)];
  const scale = LONG_SIDE / Math.max(across, down);
  const [width, height] = [Math.round(across * scale), Math.round(down * scale)];
  const whole = homographyFrom(rectangle(1, 1), sheet);
  const corners =
    whole && moved(rectangle(1 - 2 * RIM, 1 - 2 * RIM), ([x, y]) => applyHomography(whole, [x + RIM, y + RIM]));
  const back = corners && homographyFrom(rectangle(width, height), corners);
  if (!back) return [];
  const near = warpPicture(picture, corners, width, height);
  const fine = sketchScale(near);
  return look(near, fine, () => true).judged.map((one) =>
    moved(enlarge(one.quad, fine), (p) => applyHomography(back, p)),
  );
}

function moved(quad: Quad, to: (p: Quad[number]) => Quad[number]): Quad {
  return [to(quad[0]), to(quad[1]), to(quad[2]), to(quad[3])];
}

/** An outline measured again in the full picture, where its sides are shown. */
export function refinedOutline(picture: Picture, quad: Quad): Quad {
  return refinedTwice(picture, quad, sketchScale(picture), [false, false, false, false]);
}
