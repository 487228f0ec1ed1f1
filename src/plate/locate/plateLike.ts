import type { Light } from "../../model/index.ts";
import type { Content } from "./content.ts";

const MOST_GRAIN = 0.16;
/**
 * Share of the rows that carry narrow marks: a page of text has more. On a layer under a lamp, and on one that is said to be lit by
 * 254 nm, whatever its hue, every scratch and mote shows.
 */
const MOST_TEXT_ROWS = 0.5;
/** Text stands on pale paper: what has a stain's colour may bear the figures of many lanes, low and wide as such a plate is. */
const MOST_COLOURED_ROWS = 0.65;
const MOST_LIT_ROWS = 0.8;
/**
 * Share of strokes as bold as print, of blobs, and of rows that blobs fill from wall to wall, as in a filled column.
 * A layer that glows faintly at 365 nm may show much more, and a green one hardly is anything else.
 */
const MOST = { ink: 0.02, blobs: 0.22, bands: 0.22 };
const MOST_ON_DIM = { ink: 0.045, blobs: 0.5, bands: 0.36 };
const MOST_ON_GREEN = { ink: 0.045, blobs: 0.42, bands: 0.36 };

/** Under 365 nm, where that is told, what is no brighter (codes) may be a layer in stray light, of whatever hue. */
const LIT = 130;

/** A row of marks near an edge, as a share of its length, with the share of the layer under marks: a weaker row where there are more. */
const MARKS = [
  { row: 0.3, strokes: 0.003 },
  { row: 0.22, strokes: 0.012 },
];

/**
 * Where a quadrilateral is: alone, with a rim of its own; beside a plate that looks like it; the whole picture; or known, with a
 * plain rim and the shape that another photo shows the plate in; or listed, where somebody said that the photo shows one, maybe lit by
 * 254 nm.
 */
export type Place = "alone" | "beside" | "whole" | "known" | "listed" | "listed-lit";

/**
 * Whether what is on a quadrilateral can be a TLC layer: it glows green, is cloudy with a stain, or there are spots or pencil
 * marks on it, and it is neither rough nor a page of text. A blank sheet, a window or a box front has nothing to read and is no plate.
 * @param place of the quadrilateral: beside a plate a dark layer may be empty (paper glows under such light); of a whole picture,
 *   with no rim to speak for a plate, more is asked; of a known one no more than that it is neither rough nor paper under a lamp, of
 *   a listed one that it is no paper; where 254 nm lit it, a layer may glow so that all channels are clipped
 * @param light that it was taken under, where somebody said so
 */
export function plateLike(content: Content, place: Place, light: Light | null = null): boolean {
  const green = glows(content.colour);
  const dark = dim(content.colour) || (light === "uv365" && Math.max(...content.colour) < LIT);
  const pale = coloured(content.colour) ? MOST_COLOURED_ROWS : MOST_TEXT_ROWS;
  const mostRows = green || dark || light === "uv254" ? MOST_LIT_ROWS : pale;
  if (content.grain > MOST_GRAIN || content.strokeRows > mostRows) return false;
  if (paperUnderLamp(content.colour)) return false;
  if (place === "known") return true;
  if (place === "listed" || place === "listed-lit") return place === "listed-lit" || !white(content.colour);
  const most = green ? MOST_ON_GREEN : dark ? MOST_ON_DIM : MOST;
  if (content.ink > most.ink || content.blobs > most.blobs || content.bands > most.bands) return false;
  const marks = MARKS.some(({ row, strokes }) => content.markRow >= row && content.strokes >= strokes);
  const spots = content.boldestBlob >= 5.2 && content.blobs >= 0.003;
  return (
    green ||
    (place === "alone" && stained(content)) ||
    (dark && place === "beside") ||
    marks ||
    (spots && (place !== "whole" || content.markRow >= 0.1))
  );
}

/**
 * Colour over its brightest channel, and grain, of a stained layer on which neither spots nor marks are plain. It is cloudy and
 * has nothing printed on it; paint, glass and coloured paper are smoother, wood and cloth have more lines.
 */
const STAINED = { colour: 0.28, grain: 0.013, strokes: 0.02, strokeRows: 0.05, blobs: 0.02, ink: 0.002 };

function stained({ colour, grain, strokes, strokeRows, blobs, ink }: Content): boolean {
  const cloudy = coloured(colour) && grain >= STAINED.grain;
  const plain = strokes <= STAINED.strokes && strokeRows <= STAINED.strokeRows;
  return cloudy && !dim(colour) && plain && blobs <= STAINED.blobs && ink <= STAINED.ink;
}

/** As plainly as a stained layer. */
function coloured(colour: readonly [number, number, number]): boolean {
  const brightest = Math.max(...colour);
  return (brightest - Math.min(...colour)) / brightest >= STAINED.colour;
}

/** The green of an F254 layer under 254 nm, clipped or not. */
function glows([r, g, b]: readonly [number, number, number]): boolean {
  return g > 60 && g > 1.2 * r && g >= 0.98 * b && b > 0.7 * r;
}

/** An almost black, a dark purple or a violet layer, as under 365 nm; stray light of the lamp may brighten its blue. */
function dim([r, g, b]: readonly [number, number, number]): boolean {
  const most = Math.max(r, g, b);
  return (
    most < 70 ||
    (most < 110 && g < 0.6 * r && r < 1.5 * b) ||
    (b > 1.4 * r && r >= 0.95 * g && b < 170) ||
    deepBlue(r, g, b)
  );
}

/** Blue alone: the lamp's own light, which the camera sees as no other colour. */
function deepBlue(r: number, g: number, b: number): boolean {
  return b > 2.2 * g && b > 1.5 * r;
}

/** A blank sheet by daylight. */
function white(colour: readonly [number, number, number]): boolean {
  return Math.max(...colour) > 190 && Math.min(...colour) > 0.9 * Math.max(...colour);
}

/** The bluish white of paper under 365 nm: brighteners glow at about 440 nm. No layer does, and a blue stain is not so light. */
function paperUnderLamp([r, g, b]: readonly [number, number, number]): boolean {
  return b >= 170 && b > 1.15 * g && g > 1.05 * r && !deepBlue(r, g, b);
}
