import { connectedPatches, type Patch } from "../../raster/components.ts";
import type { Plane } from "../../raster/picture.ts";
import { reliefOf } from "../../raster/relief.ts";

/** What stands on a small straightened plate: pencil strokes and soft spots, in widths of the ground's own noise. */
export interface Signs {
  readonly width: number;
  readonly height: number;
  /** How far a pixel is darker than its near surroundings. */
  readonly strokes: Float32Array;
  /** How far a pixel stands out, darker or brighter, from its wide surroundings. */
  readonly blobs: Float32Array;
  /** How much darker (positive) a pixel is than its wide surroundings. */
  readonly shade: Float32Array;
  /** Small marks: ticks, crosses, figures. */
  readonly marks: readonly Patch[];
}

const RIM = 0.02;
const STROKE = 5;

/** Signs on a plate of red, green and blue codes. */
export function readSigns(patch: readonly [Plane, Plane, Plane]): Signs {
  const { width, height } = patch[0];
  const n = width * height;
  const strokes = new Float32Array(n);
  const blobs = new Float32Array(n);
  const shade = new Float32Array(n);
  for (const plane of patch) {
    const { fine, coarse, fineSpread, coarseSpread } = reliefOf(plane);
    for (let i = 0; i < n; i++) {
      strokes[i] = Math.max(strokes[i], -fine[i] / fineSpread);
      blobs[i] = Math.max(blobs[i], Math.abs(coarse[i]) / coarseSpread);
      shade[i] += -coarse[i] / coarseSpread / 3;
    }
  }
  const rim = Math.round(RIM * Math.max(width, height));
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++, i++) {
      if (x >= rim && y >= rim && x < width - rim && y < height - rim) continue;
      strokes[i] = 0;
      blobs[i] = 0;
      shade[i] = 0;
    }
  }
  return { width, height, strokes, blobs, shade, marks: smallMarks(strokes, width, height) };
}

/** Patches of strokes about as large as a tick, a cross or a figure. */
function smallMarks(strokes: Float32Array, width: number, height: number): Patch[] {
  const mask = Uint8Array.from(strokes, (v) => (v > STROKE ? 255 : 0));
  const long = Math.max(width, height);
  return connectedPatches(mask, width, height, 4).filter((p) => {
    const size = Math.max(p.x1 - p.x0, p.y1 - p.y0);
    return size >= 0.012 * long && size <= 0.07 * long;
  });
}

/** The same signs after `turn` quarter turns clockwise. */
export function turnSigns(signs: Signs, turn: number): Signs {
  let now = signs;
  for (let i = 0; i < turn; i++) now = quarter(now);
  return now;
}

function quarter(s: Signs): Signs {
  const { width: w, height: h } = s;
  const spin = (from: Float32Array) => {
    const to = new Float32Array(from.length);
    for (let y = 0, i = 0; y < h; y++) for (let x = 0; x < w; x++, i++) to[x * h + (h - 1 - y)] = from[i];
    return to;
  };
  const marks = s.marks.map((p) => ({
    x0: h - p.y1,
    y0: p.x0,
    x1: h - p.y0,
    y1: p.x1,
    area: p.area,
    cx: h - 1 - p.cy,
    cy: p.cx,
  }));
  return { width: h, height: w, strokes: spin(s.strokes), blobs: spin(s.blobs), shade: spin(s.shade), marks };
}
