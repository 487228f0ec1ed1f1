/** x to the right, y downwards. */
type Xy = readonly [x: number, y: number];

/** Projective map of the plane as a row-major 3 x 3 matrix. */
export type ProjectiveMap = readonly [number, number, number, number, number, number, number, number, number];

/**
 * The projective map that takes the unit square (0,0), (1,0), (1,1), (0,1) to the four corners, in closed form
 * (Heckbert, Fundamentals of Texture Mapping and Image Warping, 1989, section 2.2.3).
 * @param corners top-left, top-right, bottom-right, bottom-left, any unit
 * @returns null where three corners lie on one line or one is not finite, so that no such map exists
 */
export function squareToQuad(corners: readonly [Xy, Xy, Xy, Xy]): ProjectiveMap | null {
  if (!corners.flat().every(Number.isFinite) || corners.some((_, i) => onOneLine(corners, i))) return null;
  const [[x0, y0], [x1, y1], [x2, y2], [x3, y3]] = corners;
  const dx1 = x1 - x2;
  const dy1 = y1 - y2;
  const dx2 = x3 - x2;
  const dy2 = y3 - y2;
  const sx = x0 - x1 + x2 - x3;
  const sy = y0 - y1 + y2 - y3;
  const area = dx1 * dy2 - dx2 * dy1;
  const g = (sx * dy2 - dx2 * sy) / area;
  const h = (dx1 * sy - sx * dy1) / area;
  return [x1 - x0 + g * x1, x3 - x0 + h * x3, x0, y1 - y0 + g * y1, y3 - y0 + h * y3, y0, g, h, 1];
}

/** Where the map takes the point; infinite on the line that vanishes. */
export function projectPoint(m: ProjectiveMap, [x, y]: Xy): [x: number, y: number] {
  const w = m[6] * x + m[7] * y + m[8];
  return [(m[0] * x + m[1] * y + m[2]) / w, (m[3] * x + m[4] * y + m[5]) / w];
}

/** Whether corner i lies on the line of its two neighbours. */
function onOneLine(corners: readonly Xy[], i: number): boolean {
  const [[ax, ay], [bx, by], [cx, cy]] = [corners[(i + 3) % 4], corners[i], corners[(i + 1) % 4]];
  const size = Math.max(Math.abs(ax - bx), Math.abs(ay - by), Math.abs(cx - bx), Math.abs(cy - by));
  return !(Math.abs((ax - bx) * (cy - by) - (cx - bx) * (ay - by)) > 1e-9 * size * size);
}
