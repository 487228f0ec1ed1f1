import { singleRoom } from "../../math/room.ts";
import type { Edgels } from "../../raster/edgels.ts";

/** A straight line nx x + ny y = rho with how much of it is an edge; the normal points to the brighter side. */
export interface EdgeLine {
  readonly nx: number;
  readonly ny: number;
  readonly rho: number;
  /** Sum of the weights of the edge points on it. */
  readonly votes: number;
  /** True for the four borders of the picture, which stand in for a side that the frame cuts off. */
  readonly border: boolean;
  /** Running sum of support along the line, one entry per pixel; position t = ty - offset where t = -ny x + nx y. */
  readonly support: Float32Array;
  readonly offset: number;
}

const ANGLES = 180;
const STEP = (2 * Math.PI) / ANGLES;
const SPREAD = 3;
const LEAST_VOTES = 0.05;

/**
 * Straight lines by a Hough transform in which each edge point votes only near its own direction
 * (D. Ballard, Pattern Recognition 1981, 13, 111), bright and dark sides kept apart; each peak is fitted again to its
 * own points by least squares.
 * @param most how many lines to return at most, longest first
 */
export function findLines(edgels: Edgels, width: number, height: number, most: number): EdgeLine[] {
  const reach = Math.ceil(Math.hypot(width, height));
  const bins = 2 * reach + 1;
  const angles = anglesOf(edgels);
  const votes = vote(edgels, angles, reach, bins);
  const peaks = findPeaks(votes, bins, Math.min(width, height) * LEAST_VOTES);
  const sectors = bySector(edgels, angles);
  const lines: EdgeLine[] = [];
  for (const peak of peaks) {
    if (lines.length >= most) break;
    const angle = Math.floor(peak / bins) * STEP;
    const rho = (peak % bins) - reach;
    const line = fitLine(sectors, Math.cos(angle), Math.sin(angle), rho, reach);
    if (line && !lines.some((other) => same(line, other, width, height))) lines.push(line);
  }
  return lines;
}

/** Edge points sorted by direction: those of sector s stand at start[s] up to start[s + 1]. */
interface Sectors {
  readonly edgels: Edgels;
  readonly order: Int32Array;
  readonly start: Int32Array;
}

const SECTORS = 36;

/** Directions along which the picture gets brighter, radians. */
function anglesOf({ count, nx, ny }: Edgels): Float64Array {
  const angles = new Float64Array(count);
  for (let i = 0; i < count; i++) angles[i] = Math.atan2(ny[i], nx[i]);
  return angles;
}

function bySector(edgels: Edgels, angles: Float64Array): Sectors {
  const { count } = edgels;
  const sector = new Uint8Array(count);
  const start = new Int32Array(SECTORS + 1);
  for (let i = 0; i < count; i++) {
    sector[i] = sectorOf(angles[i]);
    start[sector[i] + 1]++;
  }
  for (let s = 0; s < SECTORS; s++) start[s + 1] += start[s];
  const next = start.slice();
  const order = new Int32Array(count);
  for (let i = 0; i < count; i++) order[next[sector[i]]++] = i;
  return { edgels, order, start };
}

function sectorOf(angle: number): number {
  const turn = angle / (2 * Math.PI);
  return Math.floor((turn - Math.floor(turn)) * SECTORS) % SECTORS;
}

function same(a: EdgeLine, b: EdgeLine, width: number, height: number): boolean {
  if (a.nx * b.nx + a.ny * b.ny < 0.9998) return false;
  const middle = (l: EdgeLine) => l.nx * (width / 2) + l.ny * (height / 2) - l.rho;
  return Math.abs(middle(a) - middle(b)) < 1.2;
}

const votesRoom = singleRoom();

function vote(edgels: Edgels, angles: Float64Array, reach: number, bins: number): Float32Array {
  const votes = votesRoom(ANGLES * bins).fill(0);
  const directions = directionsAround(bins);
  const { count, x, y, weight } = edgels;
  for (let i = 0; i < count; i++) voteOf(x[i], y[i], weight[i], angles[i], directions, reach, votes);
  return votes;
}

/** Cosine and sine of each direction, and where its votes begin: from SPREAD steps before half a turn back to as many after one ahead. */
function directionsAround(bins: number): Float64Array {
  const table = new Float64Array(3 * (ANGLES + 1 + 2 * SPREAD));
  for (let k = 0; 3 * k < table.length; k++) {
    const a = (k + ANGLES / 2 - SPREAD) % ANGLES;
    table.set([Math.cos(a * STEP), Math.sin(a * STEP), a * bins], 3 * k);
  }
  return table;
}

/** A function of its own, which the engine compiles early. */
function voteOf(
  x: number,
  y: number,
  w: number,
  angle: number,
  directions: Float64Array,
  reach: number,
  votes: Float32Array,
): void {
  const first = 3 * (Math.round(angle / STEP) + ANGLES / 2);
  const end = first + 3 * (2 * SPREAD + 1);
  for (let k = first; k < end; k += 3) {
    const rho = x * directions[k] + y * directions[k + 1] + reach;
    const bin = Math.floor(rho);
    const part = rho - bin;
    const o = directions[k + 2] + bin;
    votes[o] += w * (1 - part);
    votes[o + 1] += w * part;
  }
}

function findPeaks(votes: Float32Array, bins: number, least: number): number[] {
  const peaks: number[] = [];
  for (let a = 0; a < ANGLES; a++) {
    const up = ((a + 1) % ANGLES) * bins;
    const down = ((a + ANGLES - 1) % ANGLES) * bins;
    for (let r = 2; r < bins - 2; r++) {
      const i = a * bins + r;
      const v = votes[i];
      if (v < least || v < votes[i - 1] || v <= votes[i + 1] || v < votes[i - 2] || v <= votes[i + 2]) continue;
      if (v < votes[up + r] || v <= votes[down + r]) continue;
      if (v < votes[up + r + 1] || v < votes[up + r - 1] || v <= votes[down + r + 1] || v <= votes[down + r - 1])
        continue;
      peaks.push(i);
    }
  }
  return peaks.sort((p, q) => votes[q] - votes[p] || p - q);
}

function fitLine(sectors: Sectors, nx: number, ny: number, rho: number, reach: number): EdgeLine | null {
  const members = membersOf(sectors, nx, ny, rho, 4);
  let line: Normal = { nx, ny, rho };
  for (const width of [2.5, 1.5]) {
    const fitted = leastSquares(sectors.edgels, members, line, width);
    if (!fitted) return null;
    line = fitted;
  }
  const { x, y, weight } = sectors.edgels;
  const support = new Float32Array(2 * reach + 2);
  let votes = 0;
  for (const i of members) {
    if (!near(sectors.edgels, i, line, 1.5)) continue;
    const t = Math.round(-line.ny * x[i] + line.nx * y[i]) + reach;
    for (let k = t - 1; k <= t + 1; k++) if (k >= 0 && k < support.length) support[k] = 1;
    votes += weight[i];
  }
  let sum = 0;
  for (let i = 0; i < support.length; i++) {
    sum += support[i];
    support[i] = sum;
  }
  return { ...line, votes, border: false, support, offset: -reach };
}

/** Edge points about a line, from its own sector of directions and the two beside it. */
function membersOf(sectors: Sectors, nx: number, ny: number, rho: number, width: number): number[] {
  const { edgels, order, start } = sectors;
  const { x, y } = edgels;
  const centre = sectorOf(Math.atan2(ny, nx));
  const members: number[] = [];
  for (let k = centre - 2; k <= centre + 2; k++) {
    const s = (k + SECTORS) % SECTORS;
    for (let o = start[s], end = start[s + 1]; o < end; o++) {
      const i = order[o];
      const d = nx * x[i] + ny * y[i] - rho;
      if (d < width + 4 && d > -width - 4) members.push(i);
    }
  }
  return members;
}

interface Normal {
  readonly nx: number;
  readonly ny: number;
  readonly rho: number;
}

function near(edgels: Edgels, i: number, line: Normal, width: number): boolean {
  return (
    Math.abs(line.nx * edgels.x[i] + line.ny * edgels.y[i] - line.rho) < width &&
    line.nx * edgels.nx[i] + line.ny * edgels.ny[i] > 0.93
  );
}

function leastSquares(edgels: Edgels, members: readonly number[], line: Normal, width: number): Normal | null {
  let w = 0;
  let sx = 0;
  let sy = 0;
  let sxx = 0;
  let sxy = 0;
  let syy = 0;
  for (const i of members) {
    if (!near(edgels, i, line, width)) continue;
    const k = edgels.weight[i];
    const x = edgels.x[i];
    const y = edgels.y[i];
    w += k;
    sx += k * x;
    sy += k * y;
    sxx += k * x * x;
    sxy += k * x * y;
    syy += k * y * y;
  }
  if (w < 3) return null;
  const mx = sx / w;
  const my = sy / w;
  const a = sxx / w - mx * mx;
  const b = sxy / w - mx * my;
  const c = syy / w - my * my;
  const along = 0.5 * Math.atan2(2 * b, a - c);
  let nx = -Math.sin(along);
  let ny = Math.cos(along);
  if (nx * line.nx + ny * line.ny < 0) {
    nx = -nx;
    ny = -ny;
  }
  if (nx * line.nx + ny * line.ny < 0.99) return null;
  return { nx, ny, rho: nx * mx + ny * my };
}

/** The picture's own borders as lines; their normals point into the picture. */
export function borderLines(width: number, height: number): EdgeLine[] {
  const none = new Float32Array(1);
  const line = (nx: number, ny: number, rho: number) => ({
    nx,
    ny,
    rho,
    votes: 0,
    border: true,
    support: none,
    offset: 0,
  });
  return [line(0, 1, 0), line(-1, 0, -width), line(0, -1, -height), line(1, 0, 0)];
}

/** Share of the stretch between two points of a line that is an edge, 0..1. */
export function supportBetween(line: EdgeLine, ax: number, ay: number, bx: number, by: number): number {
  const ta = -line.ny * ax + line.nx * ay - line.offset;
  const tb = -line.ny * bx + line.nx * by - line.offset;
  const last = line.support.length - 1;
  const low = Math.max(0, Math.min(last, Math.round(Math.min(ta, tb))));
  const high = Math.max(0, Math.min(last, Math.round(Math.max(ta, tb))));
  return high > low ? (line.support[high] - line.support[low]) / Math.max(1, Math.abs(tb - ta)) : 0;
}
