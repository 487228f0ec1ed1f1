import { type Markup, markup, raw } from "../markup.ts";
import type { Marks, Tone } from "./palette.ts";

type Xy = readonly [x: number, y: number];

/** Directions of the lines of each kind of mark, in degrees from the x axis (y down). */
const LINES: Readonly<Record<Marks, readonly number[]>> = {
  plain: [],
  rising: [-45],
  dots: [],
  falling: [45],
  level: [0],
  upright: [90],
  grid: [0, 90],
  crossed: [-45, 45],
};

/**
 * The marks of a tone over a polygon, as real lines cut at its edge. SVG patterns would do on a screen, but they print
 * as large bitmaps and need ids that are unique in the document.
 * @param polygon corners in order, not closed; need not be convex
 * @param pitch distance between marks, in units of the drawing
 */
export function toneMarks(tone: Tone, polygon: readonly Xy[], pitch = 5): Markup | null {
  const d =
    tone.marks === "dots"
      ? dots(polygon, pitch * 1.1)
      : LINES[tone.marks].map((a) => lines(polygon, a, pitch)).join("");
  const width = pitch * (tone.marks === "dots" ? 0.42 : 0.24);
  return d === ""
    ? null
    : markup`<path d="${raw(d)}" fill="none" stroke="${tone.markColour}" stroke-width="${width}" stroke-linecap="${tone.marks === "dots" ? "round" : "butt"}"/>`;
}

/** A rectangle in a tone. */
export function tonedRect(tone: Tone, x: number, y: number, width: number, height: number, pitch?: number): Markup {
  const corners: Xy[] = [
    [x, y],
    [x + width, y],
    [x + width, y + height],
    [x, y + height],
  ];
  return markup`<rect x="${x}" y="${y}" width="${width}" height="${height}" fill="${tone.colour}"/>${toneMarks(tone, corners, pitch)}<rect x="${x}" y="${y}" width="${width}" height="${height}" fill="none" class="d-rim"/>`;
}

/** A small square in the tone, to stand before a letter in running text. */
export function toneChip(tone: Tone): string {
  return markup`<svg class="chip" viewBox="0 0 12 12" width="12" height="12" aria-hidden="true" focusable="false">${tonedRect(tone, 0.5, 0.5, 11, 11, 4)}</svg>`
    .text;
}

/** Parallel lines at an angle, cut where they enter and leave the polygon (even-odd rule). */
function lines(polygon: readonly Xy[], degrees: number, pitch: number): string {
  const c = Math.cos((degrees * Math.PI) / 180);
  const s = Math.sin((degrees * Math.PI) / 180);
  const turned = polygon.map(([x, y]): Xy => [x * c + y * s, y * c - x * s]);
  const back = (u: number, v: number) => `${short(u * c - v * s)} ${short(u * s + v * c)}`;
  const vs = turned.map(([, v]) => v);
  const parts: string[] = [];
  for (let k = Math.ceil(Math.min(...vs) / pitch - 0.5); (k + 0.5) * pitch < Math.max(...vs); k++) {
    const v = (k + 0.5) * pitch;
    const cuts = crossings(turned, v);
    for (let i = 0; i + 1 < cuts.length; i += 2) {
      if (cuts[i + 1] - cuts[i] > 0.3) parts.push(`M${back(cuts[i], v)}L${back(cuts[i + 1], v)}`);
    }
  }
  return parts.join("");
}

/** Staggered dots inside the polygon. */
function dots(polygon: readonly Xy[], pitch: number): string {
  const ys = polygon.map(([, y]) => y);
  const row = pitch * 0.8;
  const parts: string[] = [];
  for (let k = Math.ceil(Math.min(...ys) / row - 0.5); (k + 0.5) * row < Math.max(...ys); k++) {
    const y = (k + 0.5) * row;
    const shift = k % 2 === 0 ? 0 : pitch / 2;
    const cuts = crossings(polygon, y);
    for (let i = 0; i + 1 < cuts.length; i += 2) {
      const margin = pitch * 0.16;
      for (let j = Math.ceil((cuts[i] + margin - shift) / pitch); j * pitch + shift <= cuts[i + 1] - margin; j++) {
        parts.push(`M${short(j * pitch + shift)} ${short(y)}h.01`);
      }
    }
  }
  return parts.join("");
}

/** Where the level v crosses the polygon's edges, ascending. */
function crossings(polygon: readonly Xy[], v: number): number[] {
  const found: number[] = [];
  for (let i = 0; i < polygon.length; i++) {
    const [u0, v0] = polygon[i];
    const [u1, v1] = polygon[(i + 1) % polygon.length];
    if (v0 > v !== v1 > v) found.push(u0 + ((v - v0) / (v1 - v0)) * (u1 - u0));
  }
  return found.sort((a, b) => a - b);
}

function short(value: number): string {
  const text = String(Math.round(value * 10) / 10);
  return text === "-0" ? "0" : text;
}
