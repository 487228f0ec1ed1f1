import { solvePositive } from "../../math/cholesky.ts";
import type { Quad } from "../../model/index.ts";
import { valueBetween } from "../../raster/between.ts";
import { blockMeans } from "../../raster/blocks.ts";
import { applyHomography, homographyFrom, rectangle } from "../../raster/homography.ts";
import { makePlane, type Plane } from "../../raster/picture.ts";
import { type Look, likeness } from "./look.ts";

/** How far corners of two outlines may lie off each other, shares of the longer side: all alike, and each by itself. */
const OFF = { together: 0.012, alone: 0.006 };
/** A whole look is moved so far at the most, as a share of the longer side. */
const MOST = 0.035;
/** How alike looks must be in the end for one of them to be moved, and by how much more of what differs must be explained (log). */
const ALIKE = 0.3;
const GAIN = 0.1;
const ROUNDS = 8;
/** Pixels a side that are taken for one where a whole look is moved. */
const COARSE = 2;
/** Pixels side by side that say the same: a look is blurred. */
const SAME = 12;
/** Of so large a share of the coarse pixels each tells something of its own. */
const TELLING = 0.017;
/** What is off by more than so many deviations shows in one of the two only. */
const FOREIGN = 1.5;

/**
 * Moves the corners of a plate's outline in one photo so that what stands out on it lies where it does in another photo of the plate:
 * outlines are off where a rim is faint or frayed, and spots seen in both would not meet. Least squares of both looks, each in its own
 * deviations, over four free corners (after B. Lucas, T. Kanade, IJCAI 1981, 674), held to the outline as far as outlines are right.
 * @param other what stands out within the other photo's outline
 * @param own the same within this one's, of the same size
 * @param quad this outline, pixels of its picture
 * @returns the moved outline; the same one where the looks do not tell
 */
export function aligned(other: Look, own: Look, quad: Quad): Quad {
  const before = likeness(other, own);
  const [dx, dy] = bestShift(blockMeans(other, COARSE), blockMeans(own, COARSE)).map((move) => move * COARSE);
  let moves = Float64Array.from([dx, dx, dx, dx, dy, dy, dy, dy]);
  for (let round = 0; round < ROUNDS; round++) {
    const step = stepFrom(other, own, moves);
    if (step === null) return quad;
    moves = moves.map((m, k) => m + step[k]);
    if (step.every((s) => Math.abs(s) < 0.01)) break;
  }
  const after = likeness(other, moved(own, moves));
  if (after < ALIKE || explained(after) - explained(before) < GAIN) return quad;
  const { width, height } = own;
  const map = homographyFrom(rectangle(width, height), quad);
  if (map === null) return quad;
  const [a, b, c, d] = rectangle(width, height).map(([x, y], k) =>
    applyHomography(map, [x + moves[k], y + moves[4 + k]]),
  );
  return [a, b, c, d];
}

/** What a correlation leaves open of what stands out, as a negative logarithm. */
function explained(alike: number): number {
  return -Math.log(1 - Math.min(0.99, alike ** 2));
}

/** The move of the whole look, in pixels, after which it is most like the other; moves are held to be small. */
function bestShift(other: Look, own: Look): [number, number] {
  const side = Math.max(own.width, own.height);
  const reach = Math.round(MOST * side);
  const sd = OFF.together * side;
  let best: { worth: number; at: [number, number] } = { worth: Number.NEGATIVE_INFINITY, at: [0, 0] };
  for (let dy = -reach; dy <= reach; dy++)
    for (let dx = -reach; dx <= reach; dx++) {
      const alike = Math.max(0, likeness(other, shifted(own, dx, dy)));
      const worth = TELLING * other.data.length * explained(alike) - (dx * dx + dy * dy) / (2 * sd * sd);
      if (worth > best.worth) best = { worth, at: [dx, dy] };
    }
  return best.at;
}

function shifted({ width, height, data }: Look, dx: number, dy: number): Look {
  const out = makePlane(width, height);
  for (let y = Math.max(0, -dy); y < Math.min(height, height - dy); y++) {
    const from = (y + dy) * width + dx;
    for (let x = Math.max(0, -dx); x < Math.min(width, width - dx); x++) out.data[y * width + x] = data[from + x];
  }
  return out;
}

/** Shares of the four corners (top left, top right, bottom right, bottom left) in how a place moves. */
function shares(u: number, v: number): [number, number, number, number] {
  return [(1 - u) * (1 - v), u * (1 - v), u * v, (1 - u) * v];
}

function moved(own: Look, moves: Float64Array): Look {
  const { width, height } = own;
  const out = makePlane(width, height);
  for (let y = 0, i = 0; y < height; y++)
    for (let x = 0; x < width; x++, i++) {
      const [u, v] = movedTo(x, y, width, height, moves);
      out.data[i] = valueBetween(own, u, v);
    }
  return out;
}

function movedTo(x: number, y: number, width: number, height: number, moves: Float64Array): [number, number] {
  const s = shares((x + 0.5) / width, (y + 0.5) / height);
  let [u, v] = [x, y];
  for (let k = 0; k < 4; k++) {
    u += s[k] * moves[k];
    v += s[k] * moves[4 + k];
  }
  return [u, v];
}

/** One step of the corners (four across, four down) towards the least squares; null where they cannot be solved for. */
function stepFrom(other: Look, own: Look, moves: Float64Array): Float64Array | null {
  const { width, height } = own;
  const now = moved(own, moves);
  const [a, b] = [deviations(other), deviations(now)];
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += (a[i] - b[i]) ** 2;
  const sd = Math.sqrt(sum / a.length) + 1e-9;
  const matrix = new Float64Array(64);
  const right = new Float64Array(8);
  const slope = new Float64Array(8);
  for (let y = 1; y < height - 1; y++)
    for (let x = 1; x < width - 1; x++) {
      const i = y * width + x;
      const [gx, gy] = [(b[i + 1] - b[i - 1]) / 2, (b[i + width] - b[i - width]) / 2];
      if (gx === 0 && gy === 0) continue;
      const off = a[i] - b[i];
      const w = 1 / (1 + (off / (FOREIGN * sd)) ** 2) ** 2 / (sd * sd * SAME);
      const s = shares((x + 0.5) / width, (y + 0.5) / height);
      for (let k = 0; k < 4; k++) {
        slope[k] = gx * s[k];
        slope[4 + k] = gy * s[k];
      }
      for (let k = 0; k < 8; k++) {
        right[k] += w * slope[k] * off;
        for (let m = 0; m < 8; m++) matrix[8 * k + m] += w * slope[k] * slope[m];
      }
    }
  addPrior(matrix, right, moves, Math.max(width, height));
  return solvePositive(matrix, 8, [right]) ? right : null;
}

/** Corners are off together and each by itself: the precision of that, for both axes. */
function addPrior(matrix: Float64Array, right: Float64Array, moves: Float64Array, side: number): void {
  const alone = 1 / (OFF.alone * side) ** 2;
  // Inverse of alone² I + together² 11ᵀ (Sherman, Morrison 1950, from memory).
  const common = (alone * OFF.together ** 2) / (OFF.alone ** 2 + 4 * OFF.together ** 2);
  for (let axis = 0; axis < 8; axis += 4)
    for (let k = 0; k < 4; k++)
      for (let m = 0; m < 4; m++) {
        const p = (k === m ? alone : 0) - common;
        matrix[8 * (axis + k) + axis + m] += p;
        right[axis + k] -= p * moves[axis + m];
      }
}

function deviations({ data }: Plane): Float64Array {
  const n = data.length;
  let mean = 0;
  for (let i = 0; i < n; i++) mean += data[i] / n;
  let square = 0;
  for (let i = 0; i < n; i++) square += (data[i] - mean) ** 2 / n;
  const sd = Math.sqrt(square) + 1e-9;
  return Float64Array.from(data, (v) => (v - mean) / sd);
}
