/** 3 x 3 matrix, row-major. */
export type Matrix = readonly number[];

export function multiply(a: Matrix, b: Matrix): number[] {
  const out = new Array<number>(9).fill(0);
  for (let r = 0; r < 3; r++)
    for (let c = 0; c < 3; c++) for (let k = 0; k < 3; k++) out[3 * r + c] += a[3 * r + k] * b[3 * k + c];
  return out;
}

/** Inverse up to scale (the adjugate), enough for homographies. */
export function invert(m: Matrix): number[] {
  const [a, b, c, d, e, f, g, h, i] = m;
  const adjugate = [
    e * i - f * h,
    c * h - b * i,
    b * f - c * e,
    f * g - d * i,
    a * i - c * g,
    c * d - a * f,
    d * h - e * g,
    b * g - a * h,
    a * e - b * d,
  ];
  const scale = Math.max(...adjugate.map(Math.abs));
  return adjugate.map((v) => v / scale);
}

export function applyMatrix(m: Matrix, x: number, y: number): [number, number] {
  const w = m[6] * x + m[7] * y + m[8];
  return [(m[0] * x + m[1] * y + m[2]) / w, (m[3] * x + m[4] * y + m[5]) / w];
}

/** Plate mm (origin at its top left corner) to bench mm. */
export function placementMatrix(x: number, y: number, turn: number, width: number, height: number): number[] {
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  return [c, -s, x - (c * width - s * height) / 2, s, c, y - (s * width + c * height) / 2, 0, 0, 1];
}

/** Camera that looks at the bench: rotations in radians, focal length and shift in pixels, distance in mm. */
export interface Pose {
  readonly pitch: number;
  readonly yaw: number;
  readonly roll: number;
  readonly focal: number;
  readonly distance: number;
  readonly cx: number;
  readonly cy: number;
}

/** Bench mm to pixels for a pinhole camera (Hartley and Zisserman, Multiple View Geometry, 2003, eq. 8.1). */
export function poseMatrix({ pitch, yaw, roll, focal, distance, cx, cy }: Pose): number[] {
  const [cr, sr] = [Math.cos(roll), Math.sin(roll)];
  const [cp, sp] = [Math.cos(pitch), Math.sin(pitch)];
  const [cw, sw] = [Math.cos(yaw), Math.sin(yaw)];
  const rollM = [cr, -sr, 0, sr, cr, 0, 0, 0, 1];
  const pitchM = [1, 0, 0, 0, cp, -sp, 0, sp, cp];
  const yawM = [cw, 0, sw, 0, 1, 0, -sw, 0, cw];
  const r = multiply(pitchM, multiply(yawM, rollM));
  const extrinsic = [r[0], r[1], 0, r[3], r[4], 0, r[6], r[7], distance];
  return multiply([focal, 0, cx, 0, focal, cy, 0, 0, 1], extrinsic);
}

/** Undistorted position of an image point; k acts on r in half diagonals. */
export function undistort(x: number, y: number, width: number, height: number, k: number): [number, number] {
  const [dx, dy] = [x - width / 2, y - height / 2];
  const s = 1 + (k * (dx * dx + dy * dy) * 4) / (width * width + height * height);
  return [width / 2 + dx * s, height / 2 + dy * s];
}

/** Image point whose undistorted position is (x, y); Newton-like fixed point, |k| <= 0.1. */
export function distort(x: number, y: number, width: number, height: number, k: number): [number, number] {
  let [px, py] = [x, y];
  for (let i = 0; i < 30; i++) {
    const [ux, uy] = undistort(px, py, width, height, k);
    px += x - ux;
    py += y - uy;
  }
  return [px, py];
}
