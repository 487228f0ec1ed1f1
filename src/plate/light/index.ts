import { LIGHTS, type Light, type Quad } from "../../model/index.ts";
import { LINEAR_OF_CODE } from "../../raster/linear.ts";
import type { Picture } from "../../raster/picture.ts";
import { gridSamples, rimSamples } from "../../raster/regions.ts";

/** The light a plate was photographed under, and how sure that is (0.33..1). */
export interface RecognisedLight {
  readonly light: Light;
  readonly confidence: number;
}

const GRID = 48;
const DARK = 0.002;

/**
 * Tells the light from the layer's own colour and from the bench around it.
 * Under 254 nm an F254 layer glows green and the bench stays dark and violet; where the camera clips green, red still
 * lies well below it, most clearly in the layer's dimmer parts. Under 365 nm the layer itself is dark and violet.
 * A layer stained yellow-green has as much red as green and little blue, one stained purple little green: white light.
 * Common practice, no source; the weights are our own.
 * @param quad the plate's corners in pixels of the picture
 */
export function recogniseLight(picture: Picture, quad: Quad): RecognisedLight {
  const codes = gridSamples(picture, quad, GRID, 0.05);
  const [r, g, b] = linearAt(codes, 0.5);
  const [dimR, dimG, dimB] = linearAt(codes, 0.06);
  const rim = rimSamples(picture, quad, 24, 0.12);
  const glow = rim.length > 60 ? glowOnBench([r, g, b], linearAt(rim, 0.5)) : 0;
  const overRed = Math.max(logRatio(g, r), logRatio(dimG, dimR));
  const overBlue = Math.max(logRatio(g, b), logRatio(dimG, dimB));
  const violet = logRatio(b, Math.max(r, g));
  const darkness = Math.log(0.02 / (Math.max(r, g, b) + DARK));
  const score: Record<Light, number> = {
    uv254: 9 * (Math.min(overRed, overBlue + 0.3) - 0.24) + 4 * Math.min(0, logRatio(b, r) + 0.5) + 0.8 * glow,
    uv365: 4 * (violet - 0.5) + 1.5 * Math.max(-0.6, darkness) - 6 * Math.max(0, overRed - 0.5),
    white: 0,
  };
  const best = LIGHTS.reduce((p, q) => (score[q] > score[p] ? q : p));
  const sum = LIGHTS.reduce((s, light) => s + Math.exp(score[light] - score[best]), 0);
  return { light: best, confidence: 1 / sum };
}

function logRatio(a: number, b: number): number {
  return Math.log((a + DARK) / (b + DARK));
}

/** How much the plate looks like a lamp of its own on a dark violet bench: 0 not, 1 it does. */
function glowOnBench(layer: readonly number[], bench: readonly number[]): number {
  const brighter = logRatio(Math.max(...layer), Math.max(...bench)) - 1;
  const violet = 2 * logRatio(bench[2], Math.max(bench[0], bench[1]));
  return Math.max(0, Math.min(1, brighter, violet));
}

/** Linear light of each channel at a quantile of the samples. */
function linearAt(codes: Uint8Array, quantile: number): [number, number, number] {
  const at = (c: number) => {
    const counts = new Uint32Array(256);
    for (let p = c; p < codes.length; p += 3) counts[codes[p]]++;
    let left = (quantile * codes.length) / 3;
    let code = 0;
    while (code < 255 && left > counts[code]) left -= counts[code++];
    return LINEAR_OF_CODE[code];
  };
  return [at(0), at(1), at(2)];
}
