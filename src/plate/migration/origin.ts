import type { MarkRow, SignalMap } from "../view.ts";
import { ridge, spreadOf, stripesOf } from "./blocks.ts";
import { type CurveSearch, findCurves, refineCurve, rowAt } from "./curves.ts";
import { originPrior } from "./custom.ts";
import { edgeMarks } from "./edgeMarks.ts";
import type { Evidence, Look } from "./evidence.ts";
import { rowLooks } from "./originRows.ts";
import { MARGIN, STRIPES, steps, stepsOf } from "./search.ts";

/**
 * What may be the origin of a plate, all its photos together: lines, marks at the edges, rows of marks.
 * @param marks rows of pencil marks, one list per photo
 */
export function originLooks(maps: readonly SignalMap[], marks: readonly (readonly MarkRow[])[]): Look[] {
  const drawn = maps.flatMap((map) => [lineLook(map), ...faintLineLooks(map), edgeLook(map)]);
  return [...drawn, ...rowLooks(maps, marks, drawn.flat())];
}

function whereLinesAre({ width, height }: SignalMap): CurveSearch {
  const [from, to] = [Math.round(0.6 * height), Math.round(0.98 * height)];
  const tilt = Math.max(0.045 * height, 0.07 * width);
  return { from, to, tilts: stepsOf(tilt, 0.005 * height), bows: steps(0.02 * height, 5), margin: MARGIN };
}

/** Lower than this, as a share of the height, the rim of the plate is seen, however little of it. */
const RIM = 0.975;

function offTheRim({ curve }: Evidence, height: number): boolean {
  return [0.03, 0.5, 0.97].every((u) => rowAt(curve, u) < RIM * height);
}

/** A pencil line all across: strokes at one height in most stripes. */
function lineLook(map: SignalMap): Evidence[] {
  const { height } = map;
  const reach = Math.max(3, Math.round(0.012 * height));
  // A ridge: a row of figures is as high as it is full, a line is thin.
  const z = ridge(stripesOf(map.strokes, STRIPES, MARGIN), reach);
  const noise = Math.max(4 * map.strokeNoise, 0.002);
  const hits = findCurves(z, noise, whereLinesAre(map), reach, 5);
  return hits
    .filter((h) => h.score > 1.2 && h.steady > 0.5)
    .map((h) => {
      const { curve, rms } = refineCurve(z, h, Math.max(2, Math.round(reach * 0.6)), noise, MARGIN, true);
      return { curve, rms, weight: h.score * originPrior(h.y / height) };
    })
    .filter((e) => offTheRim(e, height));
}

/**
 * A line too faint for its strokes to show: it stands out of the whole grey signal where that is averaged along it. At 365 nm
 * pencil may be darker than the layer.
 */
function faintLineLooks(map: SignalMap): Look[] {
  const { height } = map;
  const reach = Math.max(3, Math.round(0.012 * height));
  const stripes = stripesOf(map.grey, STRIPES, MARGIN);
  return (map.light === "uv365" ? [1, -1] : [1]).map((sign) => {
    const z = ridge({ ...stripes, data: stripes.data.map((v) => sign * v) }, reach);
    const noise = spreadOf(z);
    return findCurves(z, noise, whereLinesAre(map), reach, 3)
      .filter((h) => h.even > FAINT)
      .map((h) => {
        const { curve, rms } = refineCurve(z, h, Math.max(2, Math.round(reach * 0.6)), noise, MARGIN, true);
        return { curve, rms, weight: FAINT_TRUST * h.even * originPrior(h.y / height) };
      })
      .filter((e) => offTheRim(e, height));
  });
}

/** Mean response of such a line, in noise widths, and how far it is trusted. */
const FAINT = 1;
const FAINT_TRUST = 0.8;

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
