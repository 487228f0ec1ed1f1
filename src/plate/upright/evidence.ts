import { marksBelow, strokesBelow } from "./below.ts";
import { edgeMarks } from "./edgeMarks.ts";
import { lineAcross } from "./lines.ts";
import { fullestRow, teethBetween } from "./rows.ts";
import type { Signs, Strokes } from "./signs.ts";
import { type SpotEvidence, spotEvidenceOf, spotsOn } from "./spots.ts";
import { layerStep } from "./steps.ts";

/** What speaks for a plate standing front up; most numbers lie between about 0 and 1. */
export interface Evidence extends SpotEvidence {
  /** Share of the width that the fullest row of strokes near the foot takes up: the origin. */
  readonly originRow: number;
  /** Strokes that cross the fullest row near the head, a root over their usual number: an origin has ticks and crosses, a front has none. */
  readonly headTicks: number;
  /** Soft spots that stand on that row: what is left on an origin, at the wrong end. */
  readonly headSpots: number;
  /** The strongest line of strokes near the foot and near the head, free to slant and bow. */
  readonly footLine: number;
  readonly headLine: number;
  /** How uneven those lines are where they are clear: drawn by hand, or broken by what else stands there. */
  readonly footLineRough: number;
  readonly headLineRough: number;
  /** How far from its edge each lies: an origin keeps off the eluent, a front runs close to the rim. */
  readonly footMargin: number;
  readonly headMargin: number;
  /** The strongest soft dark band near the foot and near the head: a wet front. */
  readonly footBand: number;
  readonly headBand: number;
  /** How uneven the band near the foot is where it is clear: an origin does not bow, a row of spots is no line. */
  readonly footBandRough: number;
  /** How far those bands are the lines themselves, blurred: where both lie in one place, as a share of the band. */
  readonly footBandOnLine: number;
  readonly headBandOnLine: number;
  /** How far from its edge each band lies where it is clear. */
  readonly footBandMargin: number;
  readonly headBandMargin: number;
  /** Soft spots that stand on the line near the foot: what is left on the origin. */
  readonly footSpots: number;
  /** How much more the layer's shade changes across a level near the head: beyond the front it is of another tone. */
  readonly layerStep: number;
}

/** What else is looked for where nobody said how many lanes there are; what stands at their places says more. */
export interface Untold {
  /** How far marks, and strokes, stand at the places of lanes below the origin, of the number that they fit best. */
  readonly marksFoot: number;
  readonly strokesFoot: number;
  /** Ticks, crosses or figures near the head, as a root over their usual number: figures above the front, or a note. */
  readonly teethHead: number;
  /** A short level stroke at a rim near the head: a front that is marked there alone. */
  readonly headEdge: number;
}

const FOOT = [0.74, 0.965] as const;
const HEAD = [0.03, 0.26] as const;
// No stroke is less than 0; a bound there, which about every other pixel lies on, would be slow to compare with.
const STROKES = { columns: 48, bounds: [-1, 8], slope: 0.08, step: 0.15, clear: 4, rough: 0.01 } as const;
const SHADE = { columns: 24, bounds: [-1, 3], slope: 0.12, step: 0.15, clear: 1, rough: 0.012, apart: 0.02 } as const;
const TEETH = 48;
const STROKE = 4;
/** Numbers of lanes that plates have. */
const LIKELY = [4, 5, 6, 7, 8, 9, 10, 12, 14];

/** Looks for it on a plate as if it stood front up. */
export function untoldOf(signs: Signs): Untold {
  const { width, height, strokes } = signs;
  return {
    marksFoot: marksBelow(signs.soft, LIKELY),
    strokesFoot: strokesBelow(signs, LIKELY),
    teethHead: Math.sqrt(teethBetween(strokes, width, height, 0.025, 0.26)) / 3,
    headEdge: edgeMarks(signs),
  };
}

/** Looks at a plate as if it stood front up. */
export function evidenceOf(signs: Signs): Evidence {
  const { height: h, soft } = signs;
  const headRow = fullestRow(signs, HEAD).row;
  const foot = linesIn(signs, FOOT);
  const head = linesIn(signs, HEAD);
  return {
    ...spotEvidenceOf(soft),
    originRow: fullestRow(signs, FOOT).fill,
    headTicks: Math.sqrt(crossings(signs, headRow)) / 3,
    headSpots: Math.sqrt(spotsOn(soft, (headRow * soft.height) / h)) / 4,
    footLine: foot.line,
    headLine: head.line,
    footLineRough: foot.lineRough,
    headLineRough: head.lineRough,
    footMargin: foot.clear * (1 - foot.row / h) * 5,
    headMargin: head.clear * (head.row / h) * 5,
    footBand: foot.band,
    headBand: head.band,
    footBandRough: foot.bandRough,
    footBandOnLine: foot.bandOnLine,
    headBandOnLine: head.bandOnLine,
    footBandMargin: foot.bandClear * (1 - foot.bandRow) * 5,
    headBandMargin: head.bandClear * head.bandRow * 5,
    footSpots: Math.sqrt(spotsOn(soft, (foot.row * soft.height) / h)) / 4,
    layerStep: layerStep(soft),
  };
}

/** The line and the band of one end of the plate. */
function linesIn({ width: w, height: h, strokes, soft }: Signs, [from, to]: readonly [number, number]) {
  const rowsOf = (height: number) => [Math.round(from * height), Math.round(to * height)] as const;
  const line = lineAcross(strokes, w, rowsOf(h), STROKES);
  const band = lineAcross(soft.shade, soft.width, rowsOf(soft.height), SHADE);
  const bandRow = (band.row + 0.5) / soft.height;
  const clear = Math.min(1, line.strength / STROKES.clear);
  const bandClear = Math.max(0, Math.min(1, band.strength / SHADE.clear));
  return {
    row: line.row,
    clear,
    line: line.strength / 5,
    lineRough: clear * Math.min(1, line.roughness / h / STROKES.rough),
    band: band.strength / 2,
    bandRow,
    bandClear,
    bandRough: bandClear * Math.min(1, band.roughness / soft.height / SHADE.rough),
    bandOnLine:
      (clear * Math.max(0, 1 - Math.abs((line.row + 0.5) / h - bandRow) / SHADE.apart) * Math.max(0, band.strength)) /
      2,
  };
}

/** How many strokes go on above and below a row. */
function crossings({ width: w, height: h, strokes }: Strokes, row: number): number {
  const reach = Math.floor(0.025 * h);
  let count = 0;
  let before = false;
  for (let b = 0; b < TEETH; b++) {
    let above = 0;
    let below = 0;
    for (let x = Math.floor((b * w) / TEETH); x < Math.floor(((b + 1) * w) / TEETH); x++) {
      for (let k = 3; k <= reach + 1; k++) {
        if (row >= k && strokes[(row - k) * w + x] > STROKE) above++;
        if (row + k < h && strokes[(row + k) * w + x] > STROKE) below++;
      }
    }
    const crosses = above > 1 && below > 1;
    if (crosses && !before) count++;
    before = crosses;
  }
  return count;
}
