import { singleRoom } from "../../math/room.ts";
import type { SignalMap } from "../view.ts";
import { ridge, type Stripes, spreadOf, stripesOf } from "./blocks.ts";
import { type EdgeRidges, edgeRidges } from "./edgeRidges.ts";
import { MARGIN, STRIPES } from "./search.ts";

/** One photo of a plate as the searches for origin and front share it. */
export interface Sketch {
  readonly map: SignalMap;
  /** The grey signal in upright stripes. */
  readonly grey: Stripes;
  /** Ridges of its strokes, thin ones alone, and what noise makes of them. */
  readonly pencil: Stripes;
  readonly pencilNoise: number;
  /** Ridges of the grey signal as thin as pencil, and their spread. */
  readonly line: Stripes;
  readonly lineNoise: number;
  /** Rows near both edges of the plate. */
  readonly edges: EdgeRidges;
}

const strokesRoom = singleRoom();

/** Half the height below which a line is pencil. */
export function pencilReach(height: number): number {
  return Math.max(3, Math.round(0.012 * height));
}

export function sketchOf(map: SignalMap): Sketch {
  const grey = stripesOf(map.grey, STRIPES, MARGIN);
  const line = ridge(grey, pencilReach(map.height));
  return {
    map,
    grey,
    line,
    lineNoise: spreadOf(line),
    // A ridge: a row of figures is as high as it is full, a line is thin.
    pencil: ridge(stripesOf(map.strokes, STRIPES, MARGIN, strokesRoom), pencilReach(map.height)),
    pencilNoise: Math.max(4 * map.strokeNoise, 0.002),
    edges: edgeRidges(map.grey),
  };
}
