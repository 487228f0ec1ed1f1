/** Slants that a hand-drawn line or row of marks may have, as rise over the plate's width in parts of its height. */
const TILTS = [-0.03, -0.015, 0, 0.015, 0.03];

const BINS = 24;
const STROKE = 4.5;

/** Share of the plate's width that strokes take up along each row, 0..1, the best of some slants. */
export function rowFill(strokes: Float32Array, width: number, height: number): Float32Array {
  const hit = new Uint8Array(BINS * height);
  const bins = binsOf(width, BINS);
  for (let y = 0; y < height; y++) hitInRow(strokes, y * width, bins, hit, y * BINS);
  const near = withNeighbours(hit, height, Math.max(1, Math.round(0.006 * height)));
  const most = new Uint8Array(height);
  const full = new Uint8Array(height);
  for (const tilt of TILTS) {
    full.fill(0);
    for (let b = 0; b < BINS; b++) {
      const rise = riseOf(tilt, height, b, BINS);
      const to = Math.min(height, height - rise);
      for (let y = Math.max(0, -rise), k = (y + rise) * BINS + b; y < to; y++, k += BINS) full[y] += near[k];
    }
    for (let y = 0; y < height; y++) if (full[y] > most[y]) most[y] = full[y];
  }
  return Float32Array.from(most, (count) => count / BINS);
}

/** A function of its own, which the engine compiles early. */
function hitInRow(strokes: Float32Array, i: number, bins: Uint8Array, hit: Uint8Array, o: number): void {
  for (let x = 0; x < bins.length; x++) if (strokes[i + x] > STROKE) hit[o + bins[x]] = 1;
}

/** Which of `count` bins each column belongs to. */
function binsOf(width: number, count: number): Uint8Array {
  return Uint8Array.from({ length: width }, (_, x) => Math.floor((x * count) / width));
}

/** How many rows a slanted line lies lower at a bin than in the middle. */
function riseOf(tilt: number, height: number, bin: number, count: number): number {
  return Math.round(tilt * height * (bin / (count - 1) - 0.5));
}

/** Where something was hit in a bin or within `reach` rows above or below. */
function withNeighbours(hit: Uint8Array, height: number, reach: number): Uint8Array {
  const near = new Uint8Array(hit.length);
  for (let i = 0; i < hit.length; i++) {
    if (hit[i] === 0) continue;
    for (let k = -reach; k <= reach; k++) {
      const j = i + k * BINS;
      if (j >= 0 && j < BINS * height) near[j] = 1;
    }
  }
  return near;
}

const TEETH = 48;
const TOOTH = 3.5;
/** Height of a tick, a cross or a figure, as a share of the plate's. */
const SHORTEST = 0.014;
const LONGEST = 0.08;

/**
 * Most upright strokes side by side at one height: ticks, crosses and figures have height, a drawn line has none.
 * @param from share of the height at which to begin
 * @param to share of the height at which to end
 */
export function teethBetween(strokes: Float32Array, width: number, height: number, from: number, to: number): number {
  const y0 = Math.round(from * height);
  const y1 = Math.round(to * height);
  const on = uprightRuns(strokes, width, height, y0, y1);
  let most = 0;
  const rows = y1 - y0;
  const teeth = new Uint8Array(rows);
  let before = new Uint8Array(rows);
  let here = new Uint8Array(rows);
  for (const tilt of TILTS) {
    teeth.fill(0);
    before.fill(0);
    for (let b = 0; b < TEETH; b++) {
      const rise = riseOf(tilt, height, b, TEETH);
      here.fill(0);
      const to = Math.min(rows, rows - rise);
      for (let y = Math.max(0, -rise), k = (y0 + y + rise) * TEETH + b; y < to; y++, k += TEETH) {
        here[y] = on[k];
        teeth[y] += on[k] & ~before[y];
      }
      [before, here] = [here, before];
    }
    for (let y = 0; y < rows; y++) if (teeth[y] > most) most = teeth[y];
  }
  return most;
}

function uprightRuns(strokes: Float32Array, width: number, height: number, y0: number, y1: number): Uint8Array {
  const on = new Uint8Array(TEETH * height);
  const bins = binsOf(width, TEETH);
  const least = Math.max(3, SHORTEST * height);
  const most = LONGEST * height;
  // How long the stroke is that each column is in: rows are walked through in the order they are kept in.
  const runs = new Int32Array(width);
  for (let y = y0; y <= y1; y++) {
    for (let x = 0, i = y * width; x < width; x++, i++) {
      if (y < y1 && strokes[i] > TOOTH) {
        runs[x]++;
        continue;
      }
      const run = runs[x];
      if (run === 0) continue;
      if (run >= least && run <= most) for (let k = y - run; k < y; k++) on[k * TEETH + bins[x]] = 1;
      runs[x] = 0;
    }
  }
  return on;
}

/** How many separate peaks a profile shows. */
export function countPeaks(profile: Float32Array): number {
  let top = 0;
  for (let i = 0; i < profile.length; i++) if (profile[i] > top) top = profile[i];
  let peaks = 0;
  let rising = true;
  let bound = 0;
  for (let i = 0; i < profile.length; i++) {
    const v = profile[i];
    if (rising ? v > bound : v < bound) bound = v;
    if (rising && v < 0.6 * bound && bound > 0.12 * top) {
      peaks++;
      rising = false;
      bound = v;
    } else if (!rising && v > bound + 0.08 * top && v > 1.6 * bound) {
      rising = true;
      bound = v;
    }
  }
  return peaks;
}
