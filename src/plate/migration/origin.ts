import type { MarkRow, SignalMap } from "../view.ts";
import { negative, ridge, spreadOf } from "./blocks.ts";
import { columnLooks } from "./columnLooks.ts";
import { refineCurve, rowAt } from "./curves.ts";
import { originPrior } from "./custom.ts";
import { edgeMarks } from "./edgeMarks.ts";
import type { Evidence, Look } from "./evidence.ts";
import { type CurveSearch, curveSearch, findCurves } from "./findCurves.ts";
import { rowLooks } from "./originRows.ts";
import { MARGIN, STRIPES, steps, stepsOf } from "./search.ts";
import { pencilReach, type Sketch } from "./sketch.ts";

/**
 * What may be the origin of a plate, all its photos together: lines, marks at the edges, rows of marks.
 * @param marks rows of pencil marks, one list per photo
 */
export function originLooks(sketches: readonly Sketch[], marks: readonly (readonly MarkRow[])[]): Look[] {
  const maps = sketches.map((one) => one.map);
  const search = whereLinesAre(maps[0]);
  const drawn = sketches.flatMap((one) => [lineLook(one, search), ...faintLineLooks(one, search), edgeLook(one)]);
  const columns = columnLooks(maps, marks, drawn.flat());
  return [...drawn, ...columns, ...rowLooks(maps, marks, [...drawn, ...columns].flat())];
}

function whereLinesAre({ width, height }: SignalMap): CurveSearch {
  const [from, to] = [Math.round(0.6 * height), Math.round(0.98 * height)];
  const tilt = Math.max(0.045 * height, 0.07 * width);
  return curveSearch({ from, to, margin: MARGIN }, stepsOf(tilt, 0.005 * height), steps(0.02 * height, 5), STRIPES);
}

/** Lower than this, as a share of the height, the rim of the plate is seen, however little of it. */
const RIM = 0.975;

function offTheRim({ curve }: Evidence, height: number): boolean {
  return [0.03, 0.5, 0.97].every((u) => rowAt(curve, u) < RIM * height);
}

/** A pencil line all across: strokes at one height in most stripes. */
function lineLook({ map, pencil, pencilNoise }: Sketch, search: CurveSearch): Evidence[] {
  const { height } = map;
  const reach = pencilReach(height);
  const how = { apart: reach, most: 5, least: PLAIN.score, sign: 1 } as const;
  return findCurves(pencil, pencilNoise, search, how)
    .filter((h) => h.score > PLAIN.score && h.steady > PLAIN.steady)
    .map((h) => {
      const near = Math.max(2, Math.round(reach * 0.6));
      const { curve, rms } = refineCurve(pencil, h, near, pencilNoise, MARGIN, true);
      const where = originPrior(h.y / height);
      return { curve, rms, weight: h.score * (h.score > PLAIN.whole ? Math.sqrt(where) : where) };
    })
    .filter((e) => offTheRim(e, height));
}

/**
 * Mean response of a line that shows, in noise widths, and what two thirds of its stripes reach. One as plain as `whole` is
 * drawn by a person wherever it is.
 */
const PLAIN = { score: 1.2, steady: 0.5, whole: 2.2 };

/**
 * A line too faint for its strokes to show: it stands out of the whole grey signal where that is averaged along it. At 365 nm
 * pencil may be darker than the layer.
 */
function faintLineLooks({ map, grey }: Sketch, search: CurveSearch): Look[] {
  const { height } = map;
  const reach = pencilReach(height);
  const z = ridge(grey, reach);
  const noise = spreadOf(z);
  return (map.light === "uv365" ? ([1, -1] as const) : ([1] as const)).map((sign) => {
    const how = { apart: reach, most: 3, least: FAINT, sign };
    const hits = findCurves(z, noise, search, how).filter((h) => h.even > FAINT);
    if (hits.length === 0) return [];
    const ridges = sign === 1 ? z : negative(z);
    return hits
      .map((h) => {
        const { curve, rms } = refineCurve(ridges, h, Math.max(2, Math.round(reach * 0.6)), noise, MARGIN, true);
        return { curve, rms, weight: FAINT_TRUST * h.even * originPrior(h.y / height) };
      })
      .filter((e) => offTheRim(e, height));
  });
}

/** Mean response of such a line, in noise widths, and how far it is trusted. */
const FAINT = 1;
const FAINT_TRUST = 0.8;

/** Short marks at both edges at one height. Nothing else on a plate looks so, so that they count nearly as much as a line. */
function edgeLook({ map, edges }: Sketch): Evidence[] {
  return edgeMarks(map, edges).map(({ clear, ...curve }) => ({
    curve,
    rms: 0.004 * map.height,
    weight:
      EDGES * Math.min(1, (clear - EDGES_LEAST) / (EDGES_CLEAR - EDGES_LEAST)) * originPrior(curve.y / map.height),
  }));
}

const EDGES = 2.6;
const EDGES_LEAST = 3;
const EDGES_CLEAR = 12;
