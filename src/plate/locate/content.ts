import { singleRoom } from "../../math/room.ts";
import type { Quad } from "../../model/index.ts";
import type { Picture, Plane } from "../../raster/picture.ts";
import { reliefInto } from "../../raster/relief.ts";
import { smallPatch } from "../../raster/smallPatch.ts";
import { takeStreakOut } from "./streak.ts";

/** What is drawn on a layer or has run on it, measured on a patch of `LONG_SIDE` pixels. */
export interface Content {
  /** Share of the layer under narrow, sharp marks, 0..1. */
  readonly strokes: number;
  /** Share of the rows, or of the columns if that is less, that carry such marks, 0..1; a streak of glare is none. */
  readonly strokeRows: number;
  /** Strongest row or column of them within the outer quarter, as a share of its length, 0..1. */
  readonly markRow: number;
  /** Share of the layer under soft blobs that stand out from the layer around, 0..1. */
  readonly blobs: number;
  /** Share of the rows, or of the columns if that is more, that blobs fill from side to side, 0..1. */
  readonly bands: number;
  /** Strongest blob over the unevenness of the layer. */
  readonly boldestBlob: number;
  /** Fine unevenness of the layer over its level. */
  readonly grain: number;
  /** Share of the layer under narrow marks as bold as print, 0..1, in the brightest channel. */
  readonly ink: number;
  /** Median codes of red, green and blue. */
  readonly colour: readonly [number, number, number];
}

const LONG_SIDE = 192;
const RIM = 2;
/** The patch stays off the rim, so that nothing from beyond it blurs in. */
const INSET = 0.03;
/** A channel darker than this share of the brightest is never rough for itself: its unrest is the camera's. */
const DARK_SHARE = 0.25;

/**
 * Reads what is on a layer, roughly, to tell a plate from a sheet of text, a window or a box.
 * @param quad corners in pixels of the picture
 * @returns null where the corners span no quadrilateral
 */
export function readContent(picture: Picture, quad: Quad): Content | null {
  const patch = smallPatch(picture, quad, LONG_SIDE, INSET);
  if (!patch) return null;
  const { width, height } = patch[0];
  const stroke = new Uint8Array(width * height);
  const bright = new Uint8Array(width * height);
  const blob = new Uint8Array(width * height);
  const channels = patch.map((plane) => readChannel(plane, stroke, bright, blob));
  const most = (of: (channel: Channel) => number) => Math.max(...channels.map(of));
  const brightest = most((c) => c.level);
  const marks = Uint8Array.from(stroke);
  takeStreakOut(marks, bright, width, height);
  return {
    ...strokeFeatures(stroke, marks, width, height),
    blobs: share(blob),
    bands: bandShare(blob, width, height),
    boldestBlob: most((c) => c.boldest),
    grain: most((c) => c.fineSpread / (Math.max(c.level, DARK_SHARE * brightest) + 8)),
    ink: channels.reduce((p, c) => (c.level > p.level ? c : p)).ink,
    colour: [channels[0].level, channels[1].level, channels[2].level],
  };
}

interface Channel {
  readonly level: number;
  readonly boldest: number;
  readonly fineSpread: number;
  readonly ink: number;
}

const [fineRoom, coarseRoom] = [singleRoom(), singleRoom()];

function readChannel(raw: Plane, stroke: Uint8Array, bright: Uint8Array, blob: Uint8Array): Channel {
  const { width, height } = raw;
  const [fine, coarse] = [fineRoom(width * height), coarseRoom(width * height)];
  const { level, fineSpread, coarseSpread } = reliefInto(raw, fine, coarse);
  const strokeBar = Math.max(5 * fineSpread, 0.03 * level);
  const blobBar = Math.max(3.6 * coarseSpread, 0.015 * level + 0.5);
  const inkBar = 0.2 * level + 4;
  let boldest = 0;
  let ink = 0;
  for (let y = RIM; y < height - RIM; y++) {
    const [from, to] = [y * width + RIM, (y + 1) * width - RIM];
    ink += markStrokes(strokeBar, inkBar, fine, from, to, stroke, bright);
    boldest = Math.max(boldest, markAbove(blobBar, coarse, from, to, blob));
  }
  return { level, boldest: boldest / coarseSpread, fineSpread, ink: ink / (width * height) };
}

/** Marks what is larger than that, whatever its sign, from one place to another; returns the largest size. */
function markAbove(least: number, values: Float32Array, from: number, to: number, mask: Uint8Array): number {
  let most = 0;
  for (let i = from; i < to; i++) {
    const size = Math.abs(values[i]);
    if (size > least) mask[i] = 1;
    if (size > most) most = size;
  }
  return most;
}

/** Marks what is larger than a bar, and apart what is brighter by so much; returns how many are larger than another bar. */
function markStrokes(
  least: number,
  counted: number,
  values: Float32Array,
  from: number,
  to: number,
  mask: Uint8Array,
  bright: Uint8Array,
): number {
  let count = 0;
  for (let i = from; i < to; i++) {
    const value = values[i];
    const size = Math.abs(value);
    if (size > counted) count++;
    if (size <= least) continue;
    mask[i] = 1;
    if (value > 0) bright[i] = 1;
  }
  return count;
}

function strokeFeatures(stroke: Uint8Array, marks: Uint8Array, width: number, height: number) {
  const { rows, columns } = filled(stroke, width, height);
  const written = filled(marks, width, height);
  const busy = (lines: Float32Array) => lines.filter((v) => v > 0.04).length / lines.length;
  const outer = (lines: Float32Array) =>
    lines.reduce((most, v, i) => (Math.abs(i / lines.length - 0.5) > 0.25 ? Math.max(most, v) : most), 0);
  return {
    strokes: share(stroke),
    strokeRows: Math.min(busy(written.rows), busy(written.columns)),
    markRow: Math.max(outer(rows), outer(columns)),
  };
}

/** What a mask fills of each row and of each column, 0..1. */
function filled(mask: Uint8Array, width: number, height: number) {
  const rows = new Float32Array(height);
  const columns = new Float32Array(width);
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++, i++) {
      if (mask[i] === 0) continue;
      rows[y] += 1 / width;
      columns[x] += 1 / height;
    }
  }
  return { rows, columns };
}

function bandShare(blob: Uint8Array, width: number, height: number): number {
  const { rows, columns } = filled(blob, width, height);
  const full = (lines: Float32Array) => lines.filter((v) => v > 0.85).length / lines.length;
  return Math.max(full(rows), full(columns));
}

function share(mask: Uint8Array): number {
  let count = 0;
  for (let i = 0; i < mask.length; i++) count += mask[i];
  return count / mask.length;
}
