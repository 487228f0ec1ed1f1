import type { SignalMap } from "../view.ts";
import { type Stripes, stripesOf } from "./blocks.ts";
import { MARGIN } from "./search.ts";

/** Stripes looked at: an edge of a stain is soft. */
const COUNT = 20;
/** Rows left out beside the edge and the last ones looked at, above and below it, as shares of the height. */
const NEAR = 0.008;
const FAR = 0.03;
/** Where the strip that did not reach the stain may end, as shares of the height. */
const ENDS = { from: 0.03, to: 0.16 };
/** Density that the layer has less above the edge, mean of the channels, and how unlike the channels are, as a share of that. */
const LEAST = 0.03;
const COLOURED = 0.5;
/** A front just below the edge shows as little, as a share of the height. */
const BESIDE = 0.025;

/**
 * Height in rows down to which a stained plate was not dipped, or what lies just below is drowned by the edge; 0 where it
 * was dipped wholly. Above the edge the layer keeps its own colour, so that the step there has the colour of the stain, while
 * pencil and a wet layer are grey.
 */
export function undippedTo({ light, channels, usable, height }: SignalMap): number {
  if (light !== "white") return 0;
  const near = Math.round(NEAR * height);
  const far = Math.max(near + 2, Math.round(FAR * height));
  const last = Math.min(height, Math.ceil(ENDS.to * height) + far);
  const live = channels
    .filter((_, c) => usable[c] > 0.34)
    .map(({ width, data }) => stripesOf({ width, height: last, data: data.subarray(0, last * width) }, COUNT, MARGIN));
  if (live.length < 2) return 0;
  let edge = 0;
  let highest = LEAST;
  for (let y = Math.round(ENDS.from * height); y < ENDS.to * height; y++) {
    const steps = live.map((stripes) => stepAt(stripes, y, near, far));
    const mean = steps.reduce((a, b) => a + b, 0) / steps.length;
    if (mean <= highest || Math.max(...steps) - Math.min(...steps) < COLOURED * mean) continue;
    highest = mean;
    edge = y;
  }
  // At the first row it is the rim of the plate.
  return edge <= Math.round(ENDS.from * height) ? 0 : edge + BESIDE * height;
}

/** Mean below a row less mean above it, what three quarters of the stripes reach: a row of spots is bare between its lanes. */
function stepAt({ count, height, data }: Stripes, y: number, near: number, far: number): number {
  const steps = new Float64Array(count);
  for (let b = 0, o = 0; b < count; b++, o += height) {
    let sum = 0;
    for (let k = near; k < far; k++) sum += data[o + y + k] - data[o + Math.max(0, y - 1 - k)];
    steps[b] = sum / (far - near);
  }
  return steps.sort()[count >> 2];
}
