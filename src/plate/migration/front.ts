import { singleRoom } from "../../math/room.ts";
import { selectAt } from "../../math/select.ts";
import type { CrossRows, MarkRow, SignalMap } from "../view.ts";
import { FINE_STRIPES, type FineResponse, fineRidge, fineStripes, goesOn } from "./between.ts";
import { negative, ridge, type Stripes, spreadOf, stepDown, stripeCentre, stripesOf } from "./blocks.ts";
import { type RowCurve, refineCurve, rowAt, weightedParabola } from "./curves.ts";
import { undippedTo } from "./dipped.ts";
import { leadingEdge } from "./edge.ts";
import { FRONT_ROWS, frontMarks, sideMarks } from "./edgeMarks.ts";
import type { Evidence, Kind, Look } from "./evidence.ts";
import { type CurveSearch, curveSearch, findCurves } from "./findCurves.ts";
import { MARGIN, STRIPES, steps, stepsOf } from "./search.ts";
import { shortMarks } from "./shortMark.ts";
import type { Sketch } from "./sketch.ts";
import { frontAlong, mayBeFront } from "./strokeLean.ts";

/** Half the heights that lines and bands are looked for with, as shares of the plate's: pencil, narrow and broad wet bands. */
const WIDTHS = [
  ["Thin", 0.011],
  ["Narrow", 0.022],
  ["Broad", 0.04],
] as const;

// One photo is looked at after the other.
const fineRoom = singleRoom();
const fineStepsRoom = singleRoom();
const stepsRoom = singleRoom();

/**
 * What may be the front of a plate, each of its photos by itself.
 * @param crosses of each photo; left out: none
 */
export function frontLooks(sketches: readonly Sketch[], crosses: readonly CrossRows[] = []): Look[] {
  const search = whereFrontsAre(sketches[0].map);
  return sketches.flatMap((one, photo) => looksOf(one, search, crosses[photo]?.front ?? []));
}

/**
 * A pencil line, a band that is darker or brighter than the layer at both sides, or a step in the ground, which may be darker where
 * the eluent went or where it did not: one look for each kind and width, so that a front that shows in several ways counts for more.
 */
function looksOf(sketch: Sketch, search: CurveSearch, crosses: readonly MarkRow[]): Look[] {
  const { map, grey: dark } = sketch;
  const { height } = map;
  // Few plates show a front in every way, and what lies between the lanes is only asked for where one was found.
  const fine = once(() => stripesOf(map.grey, FINE_STRIPES, MARGIN, fineRoom));
  const bright = once(() => negative(dark));
  const found: Look[] = [];
  for (const [width, share] of WIDTHS) {
    const reach = Math.max(3, Math.round(share * height));
    const ridges = responseOf(ridge(dark, reach), () => fineRidge(fine(), reach), reach);
    for (const [shade, sign, stripes, trust] of [
      ["dark", 1, () => dark, 1],
      ["bright", -1, bright, 0.8],
    ] as const) {
      const hits = frontHits(ridges, sign, search, map, trust, `${shade}${width}`);
      // The finest ridge is a pencil line's; the broader ones are the wet band's.
      found.push(width === "Thin" ? hits : hits.map((e) => ({ ...e, curve: leadingEdge(stripes(), e.curve, MARGIN) })));
    }
  }
  const reach = Math.max(4, Math.round(0.025 * height));
  const steep = responseOf(
    stepDown(dark, reach, stepsRoom),
    () => fineStripes(stepDown(fine(), reach, fineStepsRoom)),
    reach,
  );
  for (const [kind, sign] of [
    ["step", 1],
    ["rise", -1],
  ] as const) {
    const hits = frontHits(steep, sign, search, map, 0.7, kind);
    found.push(map.light === "uv365" ? hits : hits.map((e) => times(e, asPale(steep.z, sign, e.curve))));
  }
  found.push(...markLooks(sketch, crosses));
  const undipped = undippedTo(map);
  // Pencil is as thin above that edge and upon it; of all else there, nobody can say what it is.
  const doubted = (e: Evidence) => (e.curve.y < undipped ? times(e, UNDIPPED) : e);
  return found.map((look, k) => (k === 0 ? look : look.map(doubted)));
}

function times(e: Evidence, share: number): Evidence {
  return { ...e, trust: share * e.trust, strength: share * e.strength };
}

/** Works something out when it is first asked for. */
function once<T>(work: () => T): () => T {
  let kept: { readonly value: T } | null = null;
  return () => {
    kept ??= { value: work() };
    return kept.value;
  };
}

/** Density that a wetted layer has more than a dry one: counts in full up to the first, a tenth from the second on. */
const WETTED = { pale: 0.045, dark: 0.075, least: 0.1 };

/** Share of the stripes that may fall short of a step all along, and the shares of its mean that they may fall to and should not. */
const ALONG = { left: 0.2, uneven: 0.35, even: 0.65 };

/**
 * A layer is little darker where it is wet; a step as dark as spots is the upper side of a row of them, unless it goes from edge to
 * edge, as spots with their gaps do not.
 */
function asPale({ count, height, data }: Stripes, sign: 1 | -1, curve: RowCurve): number {
  const along = new Float32Array(count);
  for (let b = 0; b < count; b++) {
    const y = Math.round(rowAt(curve, stripeCentre(b, count, MARGIN)) - 0.5);
    along[b] = sign * data[b * height + Math.max(0, Math.min(height - 1, y))];
  }
  const mean = along.reduce((sum, v) => sum + v, 0) / count;
  const weakest = selectAt(along, Math.floor(ALONG.left * count));
  const even = (weakest / Math.max(1e-6, mean) - ALONG.uneven) / (ALONG.even - ALONG.uneven);
  const { pale, dark, least } = WETTED;
  return Math.max(least, Math.min(1, Math.max(even, (dark - mean) / (dark - pale))));
}

/** Response of a photo to one kind of front, in broad stripes and in narrow ones. */
interface Response {
  readonly z: Stripes;
  readonly noise: number;
  readonly fine: () => FineResponse;
  readonly reach: number;
}

function responseOf(z: Stripes, fine: () => FineResponse, reach: number): Response {
  return { z, noise: spreadOf(z), fine: once(fine), reach };
}

/** Short pencil marks at both edges, a mark at one edge, or a few crosses, of people who draw no line across the layer. */
function markLooks(sketch: Sketch, rows: readonly MarkRow[]): Look[] {
  const { map, edges } = sketch;
  const { height } = map;
  const pairs = frontMarks(map, edges).map(({ clear, ...curve }): Evidence => {
    return { curve, rms: 0.004 * height, kind: "edges", strength: clear, trust: PAIR * Math.min(1, clear / CLEAR) };
  });
  const short = shortMarks(sketch).map(({ score, ...curve }): Evidence => {
    return { curve, rms: 0.02 * height, kind: "short", strength: score, trust: SHORT * score };
  });
  const level = sideMarks(map, edges, FRONT_ROWS).filter(({ lean }) => mayBeFront(lean, height));
  const single = level.map(({ side, lean, clear }): Evidence => {
    const curve = frontAlong(lean, side, height);
    return { curve, rms: 0.02 * height, kind: "edge", strength: clear, trust: SINGLE * Math.min(1, clear / CLEAR) };
  });
  const crosses = rows.map(({ marks, y, tilt }): Evidence => {
    const us = marks.map((m) => m.cx / map.width);
    const [ys, weights] = [marks.map((m) => m.cy), marks.map(() => MIDDLE)];
    const curve = weightedParabola(us, ys, weights, { y, tilt, bow: 0 }, true);
    return { curve, rms: 0.004 * height, kind: "crosses", strength: marks.length, trust: CROSSES };
  });
  return [pairs, short, single, crosses];
}

/** How far marks at the edges say exactly where a front lies; those that stand out by so many widths of their side's ridges in full. */
const PAIR = 1.2;
const SHORT = 0.3;
const SINGLE = 0.1;
const CLEAR = 14;
/** The same of a row of crosses, and how much the middle of one counts against the prior that fronts are straight. */
const CROSSES = 2;
const MIDDLE = 4;

/** What is seen at or above the edge of a stain counts so much. */
const UNDIPPED = 0.1;

/** Mean response of a front, in noise widths. */
const FAINTEST = 0.6;

/** Nearer to the upper end of the plate than this, as a share of the height, a line is the edge of the layer. */
const EDGE = 0.012;
/** A curve that comes nearer to the end anywhere leaves the plate, and is no front. */
const ON_PLATE = 0.004;

type Size = Pick<SignalMap, "width" | "height">;

function whereFrontsAre({ width, height }: Size): CurveSearch {
  const tilts = stepsOf(Math.max(0.05 * height, 0.09 * width), 0.0083 * height);
  const [from, to] = [Math.round(0.015 * height), Math.round(0.4 * height)];
  return curveSearch({ from, to, margin: MARGIN }, tilts, steps(0.06 * height, 13), STRIPES);
}

function frontHits(
  { z, noise, fine, reach }: Response,
  sign: 1 | -1,
  search: CurveSearch,
  { height }: Size,
  trust: number,
  kind: Kind,
): Evidence[] {
  const how = { apart: reach, most: 4, least: FAINTEST, sign };
  const hits = findCurves(z, noise, search, how).filter((h) => h.even > FAINTEST);
  if (hits.length === 0) return [];
  const ridges = sign === 1 ? z : negative(z);
  return hits
    .map((h) => {
      const { curve, rms } = refineCurve(ridges, h, Math.max(2, Math.round(reach * 0.6)), noise, MARGIN, true);
      const strength = h.even * goesOn(fine(), sign, curve, MARGIN);
      return { curve, rms, kind, strength, trust: strength * trust };
    })
    .filter(({ curve }) => curve.y > EDGE * height && [0.03, 0.97].every((u) => rowAt(curve, u) > ON_PLATE * height));
}
