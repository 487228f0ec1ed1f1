/** Slants that a hand-drawn line or row of marks may have, as rise over the plate's width in parts of its height. */
const TILTS = [-0.03, -0.015, 0, 0.015, 0.03];

const BINS = 24;
const STROKE = 4.5;

/** Share of the plate's width that strokes take up along each row, 0..1, the best of some slants. */
export function rowFill(strokes: Float32Array, width: number, height: number): Float32Array {
  const hit = new Uint8Array(BINS * height);
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++, i++) if (strokes[i] > STROKE) hit[y * BINS + Math.floor((x * BINS) / width)] = 1;
  }
  const near = withNeighbours(hit, height, Math.max(1, Math.round(0.006 * height)));
  const out = new Float32Array(height);
  for (const tilt of TILTS) {
    for (let y = 0; y < height; y++) {
      let bins = 0;
      for (let b = 0; b < BINS; b++) {
        const k = y + Math.round(tilt * height * (b / (BINS - 1) - 0.5));
        if (k >= 0 && k < height) bins += near[k * BINS + b];
      }
      out[y] = Math.max(out[y], bins / BINS);
    }
  }
  return out;
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
  for (const tilt of TILTS) {
    for (let y = y0; y < y1; y++) {
      let teeth = 0;
      let before = 0;
      for (let b = 0; b < TEETH; b++) {
        const k = y + Math.round(tilt * height * (b / (TEETH - 1) - 0.5));
        const is = k >= y0 && k < y1 ? on[k * TEETH + b] : 0;
        if (is > before) teeth++;
        before = is;
      }
      most = Math.max(most, teeth);
    }
  }
  return most;
}

function uprightRuns(strokes: Float32Array, width: number, height: number, y0: number, y1: number): Uint8Array {
  const on = new Uint8Array(TEETH * height);
  const least = Math.max(3, SHORTEST * height);
  for (let x = 0; x < width; x++) {
    const bin = Math.floor((x * TEETH) / width);
    for (let y = y0, run = 0; y <= y1; y++) {
      if (y < y1 && strokes[y * width + x] > TOOTH) {
        run++;
        continue;
      }
      if (run >= least && run <= LONGEST * height) for (let k = y - run; k < y; k++) on[k * TEETH + bin] = 1;
      run = 0;
    }
  }
  return on;
}

/** How many separate peaks a profile shows. */
export function countPeaks(profile: Float32Array): number {
  const top = profile.reduce((most, v) => Math.max(most, v), 0);
  let peaks = 0;
  let rising = true;
  let bound = 0;
  for (const v of profile) {
    bound = rising ? Math.max(bound, v) : Math.min(bound, v);
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
