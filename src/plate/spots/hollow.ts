import { blockMeans } from "../../raster/blocks.ts";
import type { Plane } from "../../raster/picture.ts";

/** Hollows are looked for on means of so many pixels a side. */
const COARSE = 4;
/** A hollow shallower than this share of its rim is left as it is. */
const LEAST_DEPTH = 0.02;

/**
 * Fills what is enclosed by something brighter, up to the lowest place of its rim. A spot that holds too much glows in a
 * ring round a dull core, because it swallows its own light, and where the camera is at its limit the middle shows no
 * more than the rim: it is one spot, highest in the middle.
 * Priority flood from the edges (Barnes, Lehman and Mulla 2014, Computers & Geosciences 62, 117).
 */
export function hollowsFilled(plane: Plane): Plane {
  const coarse = blockMeans(plane, COARSE);
  const level = flooded(coarse);
  const { width, height } = plane;
  const data = plane.data.slice();
  for (let y = 0, i = 0; y < height; y++) {
    const row = Math.min(coarse.height - 1, Math.floor(y / COARSE)) * coarse.width;
    for (let x = 0; x < width; x++, i++) {
      const k = row + Math.min(coarse.width - 1, Math.floor(x / COARSE));
      if (level[k] - coarse.data[k] > LEAST_DEPTH * level[k]) data[i] = Math.max(data[i], level[k]);
    }
  }
  return { width, height, data };
}

/** Per pixel the lowest level over which one gets from there to the edge. */
function flooded({ width, height, data }: Plane): Float32Array {
  const level = Float32Array.from(data);
  const seen = new Uint8Array(data.length);
  const heap = new Heap(level);
  const open = (k: number) => {
    seen[k] = 1;
    heap.push(k);
  };
  for (let x = 0; x < width; x++) for (const y of [0, height - 1]) if (!seen[y * width + x]) open(y * width + x);
  for (let y = 0; y < height; y++) for (const x of [0, width - 1]) if (!seen[y * width + x]) open(y * width + x);
  for (let k = heap.pop(); k >= 0; k = heap.pop()) {
    const x = k % width;
    for (const n of [x > 0 ? k - 1 : -1, x < width - 1 ? k + 1 : -1, k - width, k + width]) {
      if (n < 0 || n >= data.length || seen[n]) continue;
      level[n] = Math.max(level[n], level[k]);
      open(n);
    }
  }
  return level;
}

/** Indices, the one of the lowest level first. */
class Heap {
  readonly #items: number[] = [];
  readonly #level: Float32Array;

  constructor(level: Float32Array) {
    this.#level = level;
  }

  push(k: number): void {
    const items = this.#items;
    let i = items.length;
    items.push(k);
    for (; i > 0; ) {
      const up = (i - 1) >> 1;
      if (this.#level[items[up]] <= this.#level[k]) break;
      items[i] = items[up];
      i = up;
    }
    items[i] = k;
  }

  /** The lowest, or -1 where none is left. */
  pop(): number {
    const items = this.#items;
    if (items.length === 0) return -1;
    const [top] = items;
    const last = items.pop() as number;
    if (items.length === 0) return top;
    let i = 0;
    for (let down = 1; down < items.length; down = 2 * i + 1) {
      if (down + 1 < items.length && this.#level[items[down + 1]] < this.#level[items[down]]) down++;
      if (this.#level[items[down]] >= this.#level[last]) break;
      items[i] = items[down];
      i = down;
    }
    items[i] = last;
    return top;
  }
}
