import type { Quad } from "../../model/index.ts";
import { aspectAt, unitSquareTo } from "./foreshortening.ts";

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
  const h = unitSquareTo(quad, width, height);
  if (!h) return { low: Number.NEGATIVE_INFINITY, high: Number.POSITIVE_INFINITY };
  const [a, b] = FOCAL.map((focal) => Math.log(aspectAt(h, focal ** 2)));
  return { low: Math.min(a, b), high: Math.max(a, b) };
}

/** Whether two outlines may be of one plate that stands the same way in both. */
export function mayStandAlike(a: ShapeRange, b: ShapeRange): boolean {
  return a.low - b.high <= SLACK && b.low - a.high <= SLACK;
}

/** Whether two outlines may be of one plate, which may lie on its side in one of them. */
export function mayBeOnePlate(a: ShapeRange, b: ShapeRange): boolean {
  return mayStandAlike(a, b) || mayStandAlike(a, { low: -b.high, high: -b.low });
}
