import type { MarkRow, SignalMap } from "../view.ts";
import { ridge, stripesOf } from "./blocks.ts";
import { findCurves, refineCurve } from "./curves.ts";
import { originPrior } from "./custom.ts";
import { edgeMarks } from "./edgeMarks.ts";
import type { Evidence, Look } from "./evidence.ts";
import { rowLooks } from "./originRows.ts";
import { MARGIN, STRIPES, steps } from "./search.ts";

/**
 * What may be the origin of a plate, all its photos together: lines, marks at the edges, rows of marks.
 * @param marks rows of pencil marks, one list per photo
 */
export function originLooks(maps: readonly SignalMap[], marks: readonly (readonly MarkRow[])[]): Look[] {
  const drawn = maps.flatMap((map) => [lineLook(map), edgeLook(map)]);
  return [...drawn, ...rowLooks(maps, marks, drawn.flat())];
}

/** A pencil line all across: strokes at one height in most stripes. */
function lineLook(map: SignalMap): Evidence[] {
  const { height } = map;
  const reach = Math.max(3, Math.round(0.012 * height));
  // A ridge: a row of figures is as high as it is full, a line is thin.
  const z = ridge(stripesOf(map.strokes, STRIPES, MARGIN), reach);
  const noise = Math.max(4 * map.strokeNoise, 0.002);
  const hits = findCurves(
    z,
    noise,
    {
      from: Math.round(0.6 * height),
      to: Math.round(0.98 * height),
      tilts: steps(0.045 * height, 19),
      bows: [0],
      margin: MARGIN,
    },
    reach,
    5,
  );
  return hits
    .filter((h) => h.score > 1.2 && h.steady > 0.5)
    .map((h) => {
      const { curve, rms } = refineCurve(z, h, Math.max(2, Math.round(reach * 0.6)), noise, MARGIN, false);
      return { curve, rms, weight: h.score * originPrior(h.y / height) };
    });
}

/** Short marks at both edges at one height. Nothing else on a plate looks so, so that they count nearly as much as a line. */
function edgeLook(map: SignalMap): Evidence[] {
  return edgeMarks(map).map(({ clear, ...curve }) => ({
    curve,
    rms: 0.004 * map.height,
    weight:
      EDGES * Math.min(1, (clear - EDGES_LEAST) / (EDGES_CLEAR - EDGES_LEAST)) * originPrior(curve.y / map.height),
  }));
}

const EDGES = 2.6;
const EDGES_LEAST = 3;
const EDGES_CLEAR = 12;
