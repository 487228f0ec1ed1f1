import type { Blob } from "./blobs.ts";

/** Fitted to plates of two renderers by logistic regression. */
const WEIGHTS = { height: 1.85, row: 5.7, inside: 16, top: -6.4, many: -1.9, bias: -15.2 };
/** A blob in a row with others is a component's: how far apart, and how level, as shares of the plate's width. */
const ROW = { from: 0.035, to: 0.3, level: 0.01 };
/** Height at which such a neighbour counts half. */
const HALF = 15;
/** Beside a spot this much higher (log), the rest of its rim and its glow are tops too: how near, as shares of the width. */
const SHADE = { from: 2, weight: 4, x: 0.05, y: 0.06 };
/** Narrow tops level with a spot so many times higher, and so much wider, are ripples of its glow and of the camera, not spots. */
const RIPPLE = { times: 30, width: 0.5, x: 0.12, y: 0.03, chance: 0.05 };
/** What is this many times lower than the highest is seldom a spot: grain and traces of the camera's packing. */
const DIM = { times: 100, weight: 1.5 };
/** Share of the width at each side within which blobs are doubted. */
const EDGE = 0.05;
/** Rf above which they are doubted: the front is near. */
const HIGH = 0.85;

/**
 * How likely each blob is a spot, 0..1: high ones, and faint ones that stand level with a clear one a lane or more
 * aside, as spots of one component do; less so by the edge, by the front, beside a far higher one, and where there are
 * very many, or where it is next to nothing beside the highest.
 * @param rf of a row of pixels
 */
export function spotOdds(blobs: readonly Blob[], width: number, rf: (y: number) => number): number[] {
  const highest = blobs.reduce((most, { z }) => Math.max(most, z), 0);
  return blobs.map((blob) => {
    let row = 0;
    let shade = 0;
    const dim = Math.max(0, Math.log(highest / (DIM.times * blob.z)));
    for (const other of blobs) {
      const aside = Math.abs(other.x - blob.x) / width;
      if (aside <= SHADE.x && Math.abs(other.y - blob.y) <= SHADE.y * width)
        shade = Math.max(shade, Math.log(other.z / blob.z) - SHADE.from);
      if (aside < ROW.from || aside > ROW.to) continue;
      const level = Math.exp(-0.5 * ((other.y - blob.y) / (ROW.level * width)) ** 2);
      row = Math.max(row, (other.z / (other.z + HALF)) * level);
    }
    const inside = Math.min(1, Math.min(blob.x, width - blob.x) / (EDGE * width));
    const top = Math.max(0, (rf(blob.y) - HIGH) / 0.1);
    const score =
      WEIGHTS.height * Math.log(blob.z) +
      WEIGHTS.row * row +
      WEIGHTS.inside * inside +
      WEIGHTS.top * top +
      WEIGHTS.many * Math.log(blobs.length) +
      WEIGHTS.bias -
      SHADE.weight * shade -
      DIM.weight * dim;
    return (isRipple(blob, blobs, width) ? RIPPLE.chance : 1) / (1 + Math.exp(-score));
  });
}

function isRipple(blob: Blob, blobs: readonly Blob[], width: number): boolean {
  return blobs.some(
    (other) =>
      other.z > RIPPLE.times * blob.z &&
      blob.width < RIPPLE.width * other.width &&
      Math.abs(other.x - blob.x) < RIPPLE.x * width &&
      Math.abs(other.y - blob.y) < RIPPLE.y * width,
  );
}
