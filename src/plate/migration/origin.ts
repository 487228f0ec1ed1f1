import { figureCentres } from "../figures.ts";
import type { CrossRows, MarkRow, SignalMap } from "../view.ts";
import { negative } from "./blocks.ts";
import { columnLooks } from "./columnLooks.ts";
import { type RowCurve, refineCurve, rowAt } from "./curves.ts";
import { edgeMarks, ORIGIN_ROWS, sideMarks } from "./edgeMarks.ts";
import type { Evidence, Look } from "./evidence.ts";
import { figureOdds } from "./figureLike.ts";
import { type CurveSearch, curveSearch, findCurves } from "./findCurves.ts";
import { MARGIN, STRIPES, steps, stepsOf } from "./search.ts";
import { pencilReach, type Sketch } from "./sketch.ts";
import { crests, type SpotProfile } from "./spotProfile.ts";

/**
 * What may be the origin of a plate, all its photos together: lines, marks at the edges, rows of marks, what is left where
 * spots end, and a place above figures.
 * @param marks rows of pencil marks, one list per photo
 * @param profiles spots, one profile per photo
 * @param crosses of each photo; left out: none
 */
export function originLooks(
  sketches: readonly Sketch[],
  marks: readonly (readonly MarkRow[])[],
  profiles: readonly SpotProfile[],
  crosses: readonly CrossRows[] = [],
): Look[] {
  const maps = sketches.map((one) => one.map);
  const [{ width, height }] = maps;
  const search = whereLinesAre(maps[0]);
  const drawn = sketches.flatMap((one) => [lineLook(one, search), ...faintLineLooks(one, search), ...edgeLooks(one)]);
  return [
    ...drawn,
    ...columnLooks(maps, marks, drawn.flat()),
    ...marks.map((rows) => rowLook(rows, height)),
    ...crosses.map(({ origin }) => crossLook(origin, height)),
    ...profiles.map(footLook),
    ...marks.map((rows) => overFigures(rows, width, height)),
  ];
}

function whereLinesAre({ width, height }: SignalMap): CurveSearch {
  const [from, to] = [Math.round(FROM * height), Math.round(0.98 * height)];
  const tilt = Math.max(0.045 * height, 0.07 * width);
  return curveSearch({ from, to, margin: MARGIN }, stepsOf(tilt, 0.005 * height), steps(0.02 * height, 5), STRIPES);
}

/** An origin lies lower than this, as a share of the height. */
const FROM = 0.6;
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
      return { curve, rms, kind: "pencil" as const, strength: h.score, trust: h.score };
    })
    .filter((e) => offTheRim(e, height));
}

/** Mean response of a line that may be one, in noise widths, and what two thirds of its stripes reach. */
const PLAIN = { score: 0.9, steady: 0.3 };

/**
 * A line too faint for its strokes to show: it stands out of the whole grey signal where that is averaged along it. At 365 nm
 * pencil may be darker than the layer.
 */
function faintLineLooks({ map, line: z, lineNoise: noise }: Sketch, search: CurveSearch): Look[] {
  const { height } = map;
  const reach = pencilReach(height);
  return (map.light === "uv365" ? ([1, -1] as const) : ([1] as const)).map((sign) => {
    const how = { apart: reach, most: 3, least: FAINT, sign };
    const hits = findCurves(z, noise, search, how).filter((h) => h.even > FAINT);
    if (hits.length === 0) return [];
    const ridges = sign === 1 ? z : negative(z);
    return hits
      .map((h) => {
        const { curve, rms } = refineCurve(ridges, h, Math.max(2, Math.round(reach * 0.6)), noise, MARGIN, true);
        return { curve, rms, kind: "faint" as const, strength: h.even, trust: FAINT_TRUST * h.even };
      })
      .filter((e) => offTheRim(e, height));
  });
}

/** Mean response of such a line, in noise widths, and how far it is trusted. */
const FAINT = 0.75;
const FAINT_TRUST = 0.8;

/** Short marks at both edges at one height, and marks at one edge. */
function edgeLooks({ map, edges }: Sketch): Look[] {
  const { height } = map;
  const pairs = edgeMarks(map, edges).map(({ clear, ...curve }): Evidence => {
    return {
      curve,
      rms: 0.004 * height,
      kind: "edges",
      strength: clear,
      trust: EDGES * Math.min(1, clear / EDGES_CLEAR),
    };
  });
  const single = sideMarks(map, edges, ORIGIN_ROWS).map(({ y, clear }): Evidence => {
    return { curve: level(y), rms: 0.01 * height, kind: "edge", strength: clear, trust: 0.1 };
  });
  return [pairs, single];
}

/**
 * Rows of crosses, from so many on they say in full where the row lies: surer than a line, for the ends of slanted strokes seem one a
 * little above their middles.
 */
const CROSSES = { many: 4, trust: 3.2 };

function crossLook(rows: readonly MarkRow[], height: number): Look {
  return rows
    .filter(({ y }) => y < RIM * height)
    .map(({ y, tilt, marks }): Evidence => {
      const trust = CROSSES.trust * Math.min(1, marks.length / CROSSES.many);
      return { curve: { y, tilt, bow: 0 }, rms: 0.005 * height, kind: "crosses", strength: marks.length, trust };
    });
}

const EDGES = 2.6;
const EDGES_CLEAR = 12;

/** Rows of pencil marks, the more marks the better they say where the row lies, and blurred ones less well. */
function rowLook(rows: readonly MarkRow[], height: number): Look {
  return rows
    .filter((row) => row.y > FROM * height && row.y < RIM * height)
    .map((row): Evidence => {
      const trust = (row.broad ? 1.3 : 1.6) * Math.min(1, row.marks.length / 5);
      return { curve: { y: row.y, tilt: row.tilt, bow: 0 }, rms: 0.006 * height, kind: "row", strength: 1, trust };
    });
}

/**
 * How much of the width ends or stands out at a place, at least; how far apart places lie, and a spot's lower side from its middle,
 * as shares of the height; and how many there are, the lowest first.
 */
const FOOT = { least: 0.01, apart: 0.015, side: 0.025, most: 3 };

/** Where streaks of lanes end and where something is left in them: on the origin, if nobody drew it. */
function footLook({ height, ends, rests }: SpotProfile): Look {
  const crestsOf = (values: Float64Array) =>
    crests(values, FOOT.least, Math.round(FOOT.apart * height), FOOT.most).filter((y) => y > FROM * height);
  const left = crestsOf(rests);
  // The lower side of a spot is the end of nothing else.
  const ended = crestsOf(ends).filter((y) => !left.some((spot) => y > spot && y - spot < FOOT.side * height));
  return [...left, ...ended].map((y): Evidence => {
    return { curve: level(y + 0.5), rms: 0.01 * height, kind: "foot", strength: 1, trust: 0.01 };
  });
}

/** How far above figures an origin is that nobody drew, as a share of the height (common practice, no source). */
const ABOVE_FIGURES = 0.047;
/** Probability from which on a row of so many signs counts as figures. */
const FIGURES = { odds: 0.5, signs: 3 };

function overFigures(rows: readonly MarkRow[], width: number, height: number): Look {
  return rows
    .filter((row) => figureCentres(row, width).length >= FIGURES.signs)
    .filter((row) => figureOdds(row, width, height) > FIGURES.odds)
    .map(({ y }): Evidence => {
      return {
        curve: level(y - ABOVE_FIGURES * height),
        rms: 0.01 * height,
        kind: "figures",
        strength: 1,
        trust: 0.001,
      };
    });
}

function level(y: number): RowCurve {
  return { y, tilt: 0, bow: 0 };
}
