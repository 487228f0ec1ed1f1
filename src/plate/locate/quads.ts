import type { Point, Quad } from "../../model/index.ts";
import { type EdgeLine, supportBetween } from "./lines.ts";

/** Four lines that may be a plate's sides, with the corners they make (clockwise from the top left as seen). */
export interface Candidate {
  readonly quad: Quad;
  /** Top, right, bottom, left. */
  readonly sides: readonly [EdgeLine, EdgeLine, EdgeLine, EdgeLine];
  readonly score: number;
}

interface LinePair {
  readonly a: number;
  readonly b: number;
  /** Mean direction of the two lines, doubled angle as a unit vector. */
  readonly cx: number;
  readonly cy: number;
}

const LEAST_AREA = 0.012;
/** Length over width. */
const LONGEST = 4.5;
const BORDER_SUPPORT = 0.55;
/** How far corners may lie outside of the picture, as a share of its longer side. */
const SLACK = 0.02;

/**
 * All quadrilaterals that two pairs of roughly parallel lines make, best supported first.
 * A side may be mostly hidden; one side with no support at all is not enough. At most two sides lie on the frame.
 * @param width of the sketch, pixels
 * @param height of the sketch, pixels
 * @param most how many to return
 * @param wanted tells which to return at all
 */
export function candidateQuads(
  lines: readonly EdgeLine[],
  width: number,
  height: number,
  most: number,
  wanted: (quad: Quad) => boolean,
): Candidate[] {
  const meet = crossings(lines);
  const pairs = parallelPairs(lines, width, height);
  const found: { score: number; quad: [number, number, number, number] }[] = [];
  const n = lines.length;
  const area0 = width * height;
  let bar = 0.02;
  const slack = SLACK * Math.max(width, height);
  const near = (i: number, j: number) => {
    const at = 2 * (i * n + j);
    return within(meet[at], meet[at + 1], width, height, slack);
  };
  const inPicture = (top: number, right: number, bottom: number, left: number) =>
    near(left, top) && near(top, right) && near(right, bottom) && near(bottom, left);
  const corner = (i: number, j: number): Point => [meet[2 * (i * n + j)], meet[2 * (i * n + j) + 1]];
  for (let p = 0; p < pairs.length; p++) {
    for (let q = p + 1; q < pairs.length; q++) {
      const one = pairs[p];
      const two = pairs[q];
      if (one.cx * two.cx + one.cy * two.cy > -0.5) continue;
      // Most pairs meet outside of the picture: asked before anything is made of them.
      if (!inPicture(one.a, two.a, one.b, two.b)) continue;
      const sides: [number, number, number, number] = [one.a, two.a, one.b, two.b];
      let borders = 0;
      for (const s of sides) if (lines[s].border) borders++;
      if (borders > 2) continue;
      const ring = [
        corner(sides[3], sides[0]),
        corner(sides[0], sides[1]),
        corner(sides[1], sides[2]),
        corner(sides[2], sides[3]),
      ];
      if (tooLong(ring)) continue;
      const area = convexArea(ring, width, height);
      if (area < LEAST_AREA * area0) continue;
      const score = cheapScore(lines, sides, ring, area / area0);
      if (score <= bar) continue;
      found.push({ score, quad: sides });
      if (found.length > 3000) {
        found.sort((x, y) => y.score - x.score);
        found.length = 1500;
        bar = found[1499].score;
      }
    }
  }
  found.sort((x, y) => y.score - x.score);
  const kept: Candidate[] = [];
  for (const { score, quad: s } of found) {
    if (kept.length >= most) break;
    const ring = [corner(s[3], s[0]), corner(s[0], s[1]), corner(s[1], s[2]), corner(s[2], s[3])];
    const candidate = asSeen(
      ring,
      s.map((i) => lines[i]),
      score,
    );
    const tolerance = 2.5;
    if (wanted(candidate.quad) && !kept.some((k) => closeTo(k.quad, candidate.quad, tolerance))) kept.push(candidate);
  }
  return kept;
}

function crossings(lines: readonly EdgeLine[]): Float64Array {
  const n = lines.length;
  const meet = new Float64Array(2 * n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      const a = lines[i];
      const b = lines[j];
      const det = a.nx * b.ny - a.ny * b.nx;
      meet[2 * (i * n + j)] = (a.rho * b.ny - b.rho * a.ny) / det;
      meet[2 * (i * n + j) + 1] = (a.nx * b.rho - b.nx * a.rho) / det;
    }
  }
  return meet;
}

function parallelPairs(lines: readonly EdgeLine[], width: number, height: number): LinePair[] {
  const pairs: LinePair[] = [];
  const least = 0.07 * Math.min(width, height);
  const [mx, my] = [width / 2, height / 2];
  for (let a = 0; a < lines.length; a++) {
    for (let b = a + 1; b < lines.length; b++) {
      const p = lines[a];
      const q = lines[b];
      const dot = p.nx * q.nx + p.ny * q.ny;
      if (Math.abs(dot) < 0.84) continue;
      const sign = Math.sign(dot);
      const apart = Math.abs(p.nx * mx + p.ny * my - p.rho - sign * (q.nx * mx + q.ny * my - q.rho));
      if (apart < least) continue;
      const x = p.nx + sign * q.nx;
      const y = p.ny + sign * q.ny;
      const norm = x * x + y * y;
      pairs.push({ a, b, cx: (x * x - y * y) / norm, cy: (2 * x * y) / norm });
    }
  }
  return pairs;
}

function within(x: number, y: number, width: number, height: number, slack: number): boolean {
  return x > -slack && y > -slack && x < width + slack && y < height + slack;
}

/** Area of a convex ring that lies in the picture, either way round; 0 where it does not qualify. */
function convexArea(ring: readonly Point[], width: number, height: number): number {
  const slack = SLACK * Math.max(width, height);
  let turn = 0;
  let area = 0;
  for (let i = 0; i < 4; i++) {
    const [x, y] = ring[i];
    if (!within(x, y, width, height, slack)) return 0;
    const [bx, by] = ring[(i + 1) & 3];
    const [cx, cy] = ring[(i + 2) & 3];
    const ux = bx - x;
    const uy = by - y;
    const vx = cx - bx;
    const vy = cy - by;
    const cross = ux * vy - uy * vx;
    const lengths = Math.sqrt((ux * ux + uy * uy) * (vx * vx + vy * vy));
    if (Math.abs(cross) < 0.72 * lengths) return 0;
    if (turn !== 0 && Math.sign(cross) !== turn) return 0;
    turn = Math.sign(cross);
    area += x * by - bx * y;
  }
  return Math.abs(area) / 2;
}

/** Rulers and pens are longer than any plate. */
function tooLong(ring: readonly Point[]): boolean {
  const one = sideLength(ring[0], ring[1]) + sideLength(ring[2], ring[3]);
  const two = sideLength(ring[1], ring[2]) + sideLength(ring[3], ring[0]);
  return one > LONGEST * two || two > LONGEST * one;
}

function sideLength(a: Point, b: Point): number {
  const dx = b[0] - a[0];
  const dy = b[1] - a[1];
  return Math.sqrt(dx * dx + dy * dy);
}

function cheapScore(
  lines: readonly EdgeLine[],
  sides: readonly number[],
  ring: readonly Point[],
  area: number,
): number {
  const cx = (ring[0][0] + ring[1][0] + ring[2][0] + ring[3][0]) / 4;
  const cy = (ring[0][1] + ring[1][1] + ring[2][1] + ring[3][1]) / 4;
  let product = 1;
  let inward = 0;
  let outward = 0;
  for (let i = 0; i < 4; i++) {
    const line = lines[sides[i]];
    const [ax, ay] = ring[i];
    const [bx, by] = ring[(i + 1) & 3];
    if (line.border) product *= BORDER_SUPPORT;
    else {
      product *= 0.05 + 0.95 * supportBetween(line, ax, ay, bx, by);
      if (line.nx * cx + line.ny * cy > line.rho) inward++;
      else outward++;
    }
  }
  const mixed = Math.min(inward, outward);
  return Math.sqrt(Math.sqrt(product)) * (mixed === 0 ? 1 : mixed === 1 ? 0.85 : 0.75) * area ** 0.1;
}

/** Orders ring and sides clockwise from the corner that is top left as seen in the photo. */
function asSeen(ring: readonly Point[], sides: readonly EdgeLine[], score: number): Candidate {
  let points = [...ring];
  let lines = [...sides];
  const area = points.reduce((sum, p, i) => sum + p[0] * points[(i + 1) & 3][1] - points[(i + 1) & 3][0] * p[1], 0);
  if (area < 0) {
    // ring i lies between sides i-1 and i; walked backwards, side i starts at what was its end.
    points = [points[0], points[3], points[2], points[1]];
    lines = [lines[3], lines[2], lines[1], lines[0]];
  }
  const first = topLeft(points);
  const at = (i: number) => points[(i + first) & 3];
  const side = (i: number) => lines[(i + first) & 3];
  return { quad: [at(0), at(1), at(2), at(3)], sides: [side(0), side(1), side(2), side(3)], score };
}

/** Index of the corner that starts the side pointing most nearly to the right (corners clockwise as seen). */
export function topLeft(points: readonly Point[]): number {
  let best = 0;
  let most = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < 4; i++) {
    const [ax, ay] = points[i];
    const [bx, by] = points[(i + 1) & 3];
    const [cx, cy] = points[(i + 2) & 3];
    const [dx, dy] = points[(i + 3) & 3];
    const x = bx - ax + cx - dx;
    const y = by - ay + cy - dy;
    const cosine = x / Math.sqrt(x * x + y * y);
    if (cosine > most + 1e-9) {
      most = cosine;
      best = i;
    }
  }
  return best;
}

function closeTo(a: Quad, b: Quad, tolerance: number): boolean {
  for (let i = 0; i < 4; i++) {
    if (Math.abs(a[i][0] - b[i][0]) > tolerance || Math.abs(a[i][1] - b[i][1]) > tolerance) return false;
  }
  return true;
}
