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
  let least = productFor(bar);
  const slack = SLACK * Math.max(width, height);
  const ring = new Float64Array(8);
  /** Puts where two lines meet in its place of the ring; tells whether that is in the picture. */
  const put = (k: number, i: number, j: number) => {
    const at = 2 * (i * n + j);
    const x = meet[at];
    const y = meet[at + 1];
    ring[2 * k] = x;
    ring[2 * k + 1] = y;
    return x > -slack && y > -slack && x < width + slack && y < height + slack;
  };
  for (let p = 0; p < pairs.length; p++) {
    const { a, b, cx, cy } = pairs[p];
    for (let q = p + 1; q < pairs.length; q++) {
      const two = pairs[q];
      if (cx * two.cx + cy * two.cy > -0.5) continue;
      // Most pairs meet outside of the picture: asked before anything is made of them.
      if (!(put(0, two.b, a) && put(1, a, two.a) && put(2, two.a, b) && put(3, b, two.b))) continue;
      const sides: [number, number, number, number] = [a, two.a, b, two.b];
      let borders = 0;
      for (let i = 0; i < 4; i++) if (lines[sides[i]].border) borders++;
      if (borders > 2 || tooLong(ring)) continue;
      const area = convexArea(ring);
      if (area < LEAST_AREA * area0) continue;
      const score = cheapScore(lines, sides, ring, area / area0, least);
      if (score <= bar) continue;
      found.push({ score, quad: sides });
      if (found.length > 3000) {
        found.sort((x, y) => y.score - x.score);
        found.length = 1500;
        bar = found[1499].score;
        least = productFor(bar);
      }
    }
  }
  const corner = (i: number, j: number): Point => [meet[2 * (i * n + j)], meet[2 * (i * n + j) + 1]];
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

/** Area of a convex ring (x and y of its four corners), either way round; 0 where it does not qualify. */
function convexArea(ring: Float64Array): number {
  let turn = 0;
  let area = 0;
  for (let i = 0; i < 8; i += 2) {
    const x = ring[i];
    const y = ring[i + 1];
    const bx = ring[(i + 2) & 7];
    const by = ring[(i + 3) & 7];
    const ux = bx - x;
    const uy = by - y;
    const vx = ring[(i + 4) & 7] - bx;
    const vy = ring[(i + 5) & 7] - by;
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
function tooLong(ring: Float64Array): boolean {
  const one = sideLength(ring, 0) + sideLength(ring, 4);
  const two = sideLength(ring, 2) + sideLength(ring, 6);
  return one > LONGEST * two || two > LONGEST * one;
}

function sideLength(ring: Float64Array, i: number): number {
  const dx = ring[(i + 2) & 7] - ring[i];
  const dy = ring[(i + 3) & 7] - ring[i + 1];
  return Math.sqrt(dx * dx + dy * dy);
}

/** More than what the size of a ring is ever worth, slack and all. */
const MOST_FOR_SIZE = 1.1;

/** The least product of four sides' supports that may make such a score. */
function productFor(score: number): number {
  return (score / MOST_FOR_SIZE) ** 4;
}

/**
 * How well the edges that were found support a ring.
 * @param area as a share of the picture's
 * @param least of the product of its sides' supports; 0 where that is less
 */
function cheapScore(
  lines: readonly EdgeLine[],
  sides: readonly number[],
  ring: Float64Array,
  area: number,
  least: number,
): number {
  const cx = (ring[0] + ring[2] + ring[4] + ring[6]) / 4;
  const cy = (ring[1] + ring[3] + ring[5] + ring[7]) / 4;
  let product = 1;
  let inward = 0;
  let outward = 0;
  for (let i = 0; i < 4; i++) {
    const line = lines[sides[i]];
    const k = 2 * i;
    if (line.border) product *= BORDER_SUPPORT;
    else {
      product *= 0.05 + 0.95 * supportBetween(line, ring[k], ring[k + 1], ring[(k + 2) & 7], ring[(k + 3) & 7]);
      if (line.nx * cx + line.ny * cy > line.rho) inward++;
      else outward++;
    }
    if (product < least) return 0;
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
