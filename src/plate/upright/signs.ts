import { makePlane, type Plane } from "../../raster/picture.ts";
import { reliefOf } from "../../raster/relief.ts";

/** What stands on a small straightened plate: pencil strokes and soft spots, in widths of the ground's own noise. */
export interface Signs {
  readonly width: number;
  readonly height: number;
  /** How far a pixel is darker than its near surroundings, in the channel that shows it best. */
  readonly strokes: Float32Array;
  /** How far a pixel stands out, darker or brighter, from its wide surroundings. */
  readonly spots: Float32Array;
  /** How much darker (positive) a pixel is than its wide surroundings, mean of the channels. */
  readonly shade: Float32Array;
}

/** The outermost part of the plate is chipped, shaded or not quite the plate. */
const RIM = 0.02;
/** Signs on a plate, from its red, green and blue in sRGB codes. */
export function readSigns(patch: readonly [Plane, Plane, Plane]): Signs {
  const { width, height } = patch[0];
  const n = width * height;
  const strokes = new Float32Array(n);
  const spots = new Float32Array(n);
  const shade = new Float32Array(n);
  const rim = Math.round(RIM * Math.max(width, height));
  for (const plane of patch) {
    const { fine, coarse, fineSpread, coarseSpread } = reliefOf(plane);
    for (let y = rim; y < height - rim; y++) {
      for (let x = rim, i = y * width + rim; x < width - rim; x++, i++) {
        const stroke = -fine[i] / fineSpread;
        const dark = -coarse[i] / coarseSpread;
        const out = dark < 0 ? -dark : dark;
        if (stroke > strokes[i]) strokes[i] = stroke;
        if (out > spots[i]) spots[i] = out;
        shade[i] += dark / 3;
      }
    }
  }
  return { width, height, strokes, spots, shade };
}

/** A picture at half its size: what is broad in it becomes narrow enough for a stroke. */
export function halved(patch: readonly [Plane, Plane, Plane]): [Plane, Plane, Plane] {
  const half = ({ width, height, data }: Plane): Plane => {
    const small = makePlane(width >> 1, height >> 1);
    for (let y = 0, k = 0; y < small.height; y++)
      for (let x = 0; x < small.width; x++, k++) {
        const i = 2 * y * width + 2 * x;
        small.data[k] = (data[i] + data[i + 1] + data[i + width] + data[i + width + 1]) / 4;
      }
    return small;
  };
  return [half(patch[0]), half(patch[1]), half(patch[2])];
}

/** The same signs turned clockwise by a quarter. */
export function quarterTurn(signs: Signs): Signs {
  const { width: w, height: h } = signs;
  const spin = (from: Float32Array) => {
    const to = new Float32Array(from.length);
    for (let y = 0, i = 0; y < h; y++) for (let x = 0; x < w; x++, i++) to[x * h + h - 1 - y] = from[i];
    return to;
  };
  return {
    width: h,
    height: w,
    strokes: spin(signs.strokes),
    spots: spin(signs.spots),
    shade: spin(signs.shade),
  };
}
