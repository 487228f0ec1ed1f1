import type { PhotoQuality } from "../../model/index.ts";

const NAMES = ["red", "green", "blue"] as const;

/**
 * The one thing that would help the reading most, in plain words; null where the photo is good.
 * The order is that of harm done: a plate cut off cannot be read there, a clipped channel holds no amounts, and so on.
 * Thresholds are our own.
 * @param codes sRGB codes over the layer, interleaved
 */
export function advise(quality: Omit<PhotoQuality, "advice">, codes: Uint8Array): string | null {
  if (quality.cutOff) return "step back a little: the frame cuts the plate off";
  const clip = clippingAdvice(quality.clipped);
  if (clip) return clip;
  if (quality.platePx < 500) {
    return `go closer: the plate is only ${Math.round(quality.platePx)} pixels wide, 1000 or more show faint spots better`;
  }
  if (quality.blurPx > Math.max(6, quality.platePx / 70)) {
    return "hold the phone still and focus on the plate: the photo is blurred";
  }
  const brightest = brightestMedian(codes);
  if (brightest < 12) {
    return "turn the exposure up by about two stops: the layer is almost black";
  }
  if (quality.evenness < 0.35) {
    return "light the plate more evenly: its darkest part gets only ".concat(
      `${Math.round(100 * quality.evenness)} % of the light of its brightest`,
    );
  }
  return null;
}

function clippingAdvice(clipped: readonly [number, number, number]): string | null {
  const order = [0, 1, 2].sort((a, b) => clipped[b] - clipped[a]);
  const worst = clipped[order[0]];
  if (worst < 0.15) return null;
  const second = clipped[order[1]];
  const stops = second > 0.5 ? "two stops" : worst > 0.4 ? "one stop" : "half a stop";
  return `turn the exposure down by about ${stops}: ${NAMES[order[0]]} is clipped on ${Math.round(100 * worst)} % of the layer`;
}

function brightestMedian(codes: Uint8Array): number {
  let best = 0;
  for (let c = 0; c < 3; c++) {
    const counts = new Uint32Array(256);
    for (let p = c; p < codes.length; p += 3) counts[codes[p]]++;
    let below = 0;
    let code = 0;
    while (code < 255 && below + counts[code] <= Math.floor(codes.length / 6)) below += counts[code++];
    best = Math.max(best, code);
  }
  return best;
}
