import type { Quad } from "../../model/index.ts";
import { homographyFrom, rectangle } from "../../raster/homography.ts";

/** Focal lengths of phone cameras over the long side of the picture, from a wide lens to a crop or a twofold zoom. */
const FOCAL = [0.65, 1.6] as const;
/** What corners found to a fraction of a percent and a bent plate may add, as a logarithm. */
const SLACK = 0.05;

/** What a plate's outline tells of its shape: natural logarithms of height over width, the least and the most that it may be. */
export interface ShapeRange {
  readonly low: number;
  readonly high: number;
}

/**
 * The shapes of a rectangle that a camera may show as `quad`: how strongly perspective foreshortens depends on the focal
 * length, which nobody tells, so that a tilted view leaves a range. Geometry as in `plateAspect`.
 * @param quad corners in pixels of the whole picture (not of a crop)
 * @param width of the picture in pixels
 * @param height of the picture in pixels
 */
export function shapeRange(quad: Quad, width: number, height: number): ShapeRange {
  const long = Math.max(width, height);
  const centred = quad.map(([x, y]) => [(x - width / 2) / long, (y - height / 2) / long]) as unknown as Quad;
  const h = homographyFrom(rectangle(1, 1), centred);
  if (!h) return { low: Number.NEGATIVE_INFINITY, high: Number.POSITIVE_INFINITY };
  const [h11, h12, , h21, h22, , h31, h32] = h;
  const [a, b] = FOCAL.map((focal) => {
    const across = (h11 * h11 + h21 * h21) / focal ** 2 + h31 * h31;
    const down = (h12 * h12 + h22 * h22) / focal ** 2 + h32 * h32;
    return Math.log(down / across) / 2;
  });
  return { low: Math.min(a, b), high: Math.max(a, b) };
}

/** Whether two outlines may be of one plate that stands the same way in both. */
export function mayBeOneShape(a: ShapeRange, b: ShapeRange): boolean {
  return a.low - b.high <= SLACK && b.low - a.high <= SLACK;
}

/** The shape turned by a quarter. */
export function lying({ low, high }: ShapeRange): ShapeRange {
  return { low: -high, high: -low };
}
