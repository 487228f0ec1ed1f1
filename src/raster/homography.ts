/** x to the right, y downwards. */
export type Xy = readonly [x: number, y: number];

/** Four points in order around a quadrilateral. */
export type FourPoints = readonly [Xy, Xy, Xy, Xy];

/** Projective map of the plane as a row-major 3 x 3 matrix, scaled to m[8] = 1. */
export type Homography = readonly [number, number, number, number, number, number, number, number, number];

/**
 * The projective map that takes `from[i]` to `to[i]`: the eight linear equations of the direct linear transform
 * (Hartley and Zisserman, Multiple View Geometry, 2nd ed., 4.1, inhomogeneous form), solved by elimination with pivoting.
 * @returns null where three of the points lie on one line, so that no such map exists
 */
export function homographyFrom(from: FourPoints, to: FourPoints): Homography | null {
  const rows: number[][] = [];
  for (let i = 0; i < 4; i++) {
    const [x, y] = from[i];
    const [u, v] = to[i];
    rows.push([x, y, 1, 0, 0, 0, -u * x, -u * y, u], [0, 0, 0, x, y, 1, -v * x, -v * y, v]);
  }
  for (let c = 0; c < 8; c++) {
    let pivot = c;
    for (let r = c + 1; r < 8; r++) if (Math.abs(rows[r][c]) > Math.abs(rows[pivot][c])) pivot = r;
    if (Math.abs(rows[pivot][c]) < 1e-9) return null;
    [rows[c], rows[pivot]] = [rows[pivot], rows[c]];
    for (let r = 0; r < 8; r++) {
      if (r === c) continue;
      const factor = rows[r][c] / rows[c][c];
      if (factor !== 0) for (let k = c; k < 9; k++) rows[r][k] -= factor * rows[c][k];
    }
  }
  const h = rows.map((row, i) => row[8] / row[i]);
  const map: Homography = [h[0], h[1], h[2], h[3], h[4], h[5], h[6], h[7], 1];
  const size = Math.hypot(h[0], h[1], h[2]) * Math.hypot(h[3], h[4], h[5]) * Math.hypot(h[6], h[7], 1);
  return Math.abs(determinant(map)) > 1e-12 * size ? map : null;
}

function determinant([a, b, c, d, e, f, g, i, j]: Homography): number {
  return a * (e * j - f * i) - b * (d * j - f * g) + c * (d * i - e * g);
}

/** Where `h` takes the point; the result is infinite on the line that vanishes. */
export function applyHomography(h: Homography, [x, y]: Xy): Xy {
  const w = h[6] * x + h[7] * y + h[8];
  return [(h[0] * x + h[1] * y + h[2]) / w, (h[3] * x + h[4] * y + h[5]) / w];
}

/** The map back, or null where `h` is singular (adjugate over determinant). */
export function invertHomography(h: Homography): Homography | null {
  const [a, b, c, d, e, f, g, i, j] = h;
  const m = [
    e * j - f * i,
    c * i - b * j,
    b * f - c * e,
    f * g - d * j,
    a * j - c * g,
    c * d - a * f,
    d * i - e * g,
    b * g - a * i,
    a * e - b * d,
  ];
  if (Math.abs(determinant(h)) < 1e-12 || Math.abs(m[8]) < 1e-300) return null;
  return m.map((v) => v / m[8]) as unknown as Homography;
}

/** The four corners of a rectangle `width` x `height` at the origin, in the order of a quad (clockwise from top left). */
export function rectangle(width: number, height: number): FourPoints {
  return [
    [0, 0],
    [width, 0],
    [width, height],
    [0, height],
  ];
}
