/** Half the width of a streak of glare on a patch, in pixels, with the dark rims that its surroundings seem to have. */
const HALF = 3;
const RIMS = 4;
/** It runs along this share of the patch's longer side at least, and this share of its length is bright. */
const LONG = 0.6;
const FULL = 0.8;
const ANGLES = 60;

/**
 * Takes one streak of glare, the reflection of a lamp, out of a mask of marks: the straight line along which most is brighter
 * than what is beside it.
 * @param marks 1 where a mark is, row by row; changed in place
 * @param bright the same of bright marks alone
 */
export function takeStreakOut(marks: Uint8Array, bright: Uint8Array, width: number, height: number): void {
  const least = LONG * Math.max(width, height);
  const xs: number[] = [];
  const ys: number[] = [];
  for (let y = 0, i = 0; y < height; y++)
    for (let x = 0; x < width; x++, i++)
      if (bright[i] === 1) {
        xs.push(x);
        ys.push(y);
      }
  if (xs.length < FULL * least) return;
  const reach = Math.ceil(Math.hypot(width, height));
  const counts = new Uint32Array(2 * reach + 1);
  let best = { sum: 0, nx: 0, ny: 0, middle: 0 };
  for (let k = 0; k < ANGLES; k++) {
    const [nx, ny] = [Math.cos((k * Math.PI) / ANGLES), Math.sin((k * Math.PI) / ANGLES)];
    counts.fill(0);
    for (let n = 0; n < xs.length; n++) counts[Math.round(nx * xs[n] + ny * ys[n]) + reach]++;
    const { at, sum } = densest(counts);
    if (sum > best.sum) best = { sum, nx, ny, middle: at - reach };
  }
  if (best.sum < FULL * least) return;
  const { nx, ny, middle } = best;
  const along = new Uint8Array(2 * reach + 1);
  for (let n = 0; n < xs.length; n++)
    if (Math.abs(nx * xs[n] + ny * ys[n] - middle) <= HALF) along[Math.round(ny * xs[n] - nx * ys[n]) + reach] = 1;
  const length = along.lastIndexOf(1) - along.indexOf(1) + 1;
  if (length < least || along.reduce((sum, v) => sum + v, 0) < FULL * length) return;
  for (let y = 0, i = 0; y < height; y++)
    for (let x = 0; x < width; x++, i++) if (Math.abs(nx * x + ny * y - middle) <= HALF + RIMS) marks[i] = 0;
}

/** Middle of the band of so many neighbours that holds most, and how much that is. */
function densest(counts: Uint32Array): { at: number; sum: number } {
  let sum = 0;
  let best = { at: 0, sum: -1 };
  for (let i = 0; i < counts.length; i++) {
    sum += counts[i] - (i > 2 * HALF ? counts[i - 2 * HALF - 1] : 0);
    if (sum > best.sum) best = { at: i - HALF, sum };
  }
  return best;
}
