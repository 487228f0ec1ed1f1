import type { Light, Quad } from "../../model/index.ts";
import { LINEAR_OF_CODE } from "../../raster/linear.ts";
import type { Picture } from "../../raster/picture.ts";
import { gridSamples, rimSamples } from "../../raster/regions.ts";

/** The light a plate was photographed under, and how sure that is (0.33..1). */
export interface RecognisedLight {
  readonly light: Light;
  readonly confidence: number;
}

const GRID = 48;

/**
 * Tells the light from the layer's own colour and brightness and from the bench around it.
 * Under 254 nm an F254 layer glows green and the bench stays dark and violet; the camera may clip green and leave a
 * cyan-white or yellow-green plate, so a bright plate on a dark violet bench counts too. Under 365 nm the layer itself
 * is dark and violet. Everything else is white light. Common practice, no source; the weights are our own.
 * @param quad the plate's corners in pixels of the picture
 */
export function recogniseLight(picture: Picture, quad: Quad): RecognisedLight {
  const inside = linearStats(gridSamples(picture, quad, GRID, 0.05));
  const rim = rimSamples(picture, quad, 24, 0.12);
  const outside = rim.length > 60 ? linearStats(rim) : null;
  const [r, g, b] = inside.median;
  const dark = 0.004;
  const green = Math.log((g + dark) / (Math.max(r, b * 0.9) + dark));
  const level = Math.log((Math.max(r, g, b) + 1e-4) / 0.06);
  const violet = Math.log((b + dark) / (Math.max(r, g) + dark));
  const bench = outside
    ? Math.log((inside.total + dark) / (outside.total + dark)) * 0.5 +
      Math.log((outside.median[2] + dark) / (Math.max(outside.median[0], outside.median[1]) + dark))
    : 0;
  const score = {
    uv254: 6 * green + 1.2 * Math.max(-1, Math.min(2, bench)) + Math.min(1, level) - 1.5,
    uv365: -2.2 * level + 1.5 * Math.max(-1, Math.min(1, violet)) - 3 * Math.max(0, green) - 0.5,
    white: 1.2,
  };
  const lights: Light[] = ["uv254", "uv365", "white"];
  const best = lights.reduce((p, q) => (score[q] > score[p] ? q : p));
  const sum = lights.reduce((s, l) => s + Math.exp(score[l] - score[best]), 0);
  return { light: best, confidence: 1 / sum };
}

function linearStats(codes: Uint8Array): { median: [number, number, number]; total: number } {
  const median = [0, 1, 2].map((c) => {
    const counts = new Uint32Array(256);
    for (let p = c; p < codes.length; p += 3) counts[codes[p]]++;
    let left = codes.length / 6;
    let code = 0;
    while (code < 255 && left > counts[code]) left -= counts[code++];
    return LINEAR_OF_CODE[code];
  }) as [number, number, number];
  return { median, total: (median[0] + median[1] + median[2]) / 3 };
}
