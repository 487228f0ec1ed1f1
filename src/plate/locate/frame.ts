import type { Point, Quad } from "../../model/index.ts";
import { rectangle } from "../../raster/homography.ts";
import { quadArea, sideDistance } from "./geometry.ts";
import type { Judged } from "./judge.ts";
import type { View } from "./sketchView.ts";

const LEAST_SMOOTH = 0.8;
const FAINT = 0.12;
const CLEAR = 0.03;
const LEAST_SCORE = 0.25;
const LEAST_COHERENCE = 0.75;

/**
 * Whether the picture is all plate: one smooth layer from border to border, with nothing in it that could be a plate's
 * rim.
 * @returns a confidence, or null where it is not
 */
export function allPlate({ width, height, whole, judged }: View): number | null {
  const frame = rectangle(width, height);
  if (whole.smooth < LEAST_SMOOTH) return null;
  const margin = CLEAR * Math.min(width, height);
  const rim = judged.some((one) => {
    // A plate may reach close to the border; what lies between is bench if all four sides show.
    if (one.score >= LEAST_SCORE && one.sides.every((side) => !side.framed && side.coherence >= LEAST_COHERENCE))
      return true;
    const shown = one.sides.filter((_, i) => !alongFrame(frame, one.quad[i], one.quad[(i + 1) & 3], margin));
    if (shown.length === 0 || one.score < LEAST_SCORE || shown.some((side) => side.coherence < LEAST_COHERENCE))
      return false;
    // Steps too bold for lines that are drawn on a plate.
    const boldest = Math.max(...shown.map((side) => side.step));
    return shown.every((side) => side.wide > Math.max(FAINT * whole.level, 0.3 * boldest));
  });
  return rim ? null : whole.smooth;
}

/** How much of the picture a plate fills along which it was cropped, and how well the sides that are left show. */
const CROPPED = { share: 0.85, score: 0.4, coherence: 0.9 };

/**
 * What fills nearly all of a picture, cut off along its border at some sides and with a rim of its own at the others.
 * @returns in pixels of the sketch; null: nothing does
 */
export function cropped({ width, height, judged }: View, mayBe: (one: Judged) => boolean): Judged | null {
  const found = judged.find(
    (one) =>
      one.score >= CROPPED.score &&
      quadArea(one.quad) >= CROPPED.share * width * height &&
      one.sides.some((side) => side.framed) &&
      one.sides.every((side) => side.framed || side.coherence >= CROPPED.coherence) &&
      mayBe(one),
  );
  return found ?? null;
}

/** Whether a side lies on a border of the frame or hardly within it. */
function alongFrame(frame: Quad, a: Point, b: Point, margin: number): boolean {
  return frame.some((p, i) => {
    const q = frame[(i + 1) & 3];
    return sideDistance(p, q, a) < margin && sideDistance(p, q, b) < margin;
  });
}
