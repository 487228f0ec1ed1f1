import { normalDeviate, seededRandom } from "../../math/random.ts";

const TABLE_BITS = 16;
const TABLE_SIZE = 1 << TABLE_BITS;
let table: Float32Array | null = null;

/** 65536 standard normal deviates, always the same; drawn from by a seeded walk. */
function normals(): Float32Array {
  if (!table) {
    const random = seededRandom(20_240_229);
    table = Float32Array.from({ length: TABLE_SIZE }, () => normalDeviate(random));
  }
  return table;
}

/** Fast stream of standard normal deviates: xorshift32 (Marsaglia 2003) over a fixed table. */
export function normalStream(seed: number): () => number {
  const deviates = normals();
  let s = (seed ^ 0x9e3779b9) >>> 0 || 1;
  return () => {
    s ^= s << 13;
    s ^= s >>> 17;
    s ^= s << 5;
    return deviates[(s >>> 7) & (TABLE_SIZE - 1)];
  };
}

/** In-place box blur of one row-major plane, `radius` pixels each way, twice: close to a triangle. */
export function boxBlurTwice(data: Float32Array, width: number, height: number, radius: number): void {
  if (radius < 1) return;
  const line = new Float32Array(Math.max(width, height));
  const pass = (start: number, stride: number, n: number) => {
    const span = 2 * radius + 1;
    let sum = 0;
    for (let i = -radius; i <= radius; i++) sum += data[start + stride * Math.min(n - 1, Math.max(0, i))];
    for (let i = 0; i < n; i++) {
      line[i] = sum / span;
      sum += data[start + stride * Math.min(n - 1, i + radius + 1)] - data[start + stride * Math.max(0, i - radius)];
    }
    for (let i = 0; i < n; i++) data[start + stride * i] = line[i];
  };
  for (let round = 0; round < 2; round++) {
    for (let y = 0; y < height; y++) pass(y * width, 1, width);
    for (let x = 0; x < width; x++) pass(x, width, height);
  }
}

/**
 * Adds smooth noise of unit variance times `gain`, with features of about `cell` pixels.
 * @param wraps true: the plane can be laid side by side with itself (`cell` must divide both sides)
 */
export function addSmoothNoise(
  data: Float32Array,
  width: number,
  height: number,
  cell: number,
  gain: number,
  normal: () => number,
  wraps = false,
): void {
  const cols = Math.ceil(width / cell) + (wraps ? 1 : 2);
  const rows = Math.ceil(height / cell) + (wraps ? 1 : 2);
  const lattice = Float32Array.from({ length: cols * rows }, normal);
  if (wraps) {
    for (let r = 0; r < rows; r++) lattice[r * cols + cols - 1] = lattice[r * cols];
    lattice.copyWithin((rows - 1) * cols, 0, cols);
  }
  // bilinear mixing with a smooth fade keeps about 0.55 of the variance on average
  const scale = gain / Math.sqrt(0.55);
  const row = new Float32Array(cols);
  for (let y = 0; y < height; y++) {
    const fy = y / cell;
    const j = Math.floor(fy);
    const ty = fade(fy - j);
    for (let c = 0; c < cols; c++)
      row[c] = scale * (lattice[j * cols + c] * (1 - ty) + lattice[(j + 1) * cols + c] * ty);
    for (let x = 0; x < width; x++) {
      const fx = x / cell;
      const i = Math.floor(fx);
      const tx = fade(fx - i);
      data[y * width + x] += row[i] * (1 - tx) + row[i + 1] * tx;
    }
  }
}

function fade(t: number): number {
  return t * t * (3 - 2 * t);
}
