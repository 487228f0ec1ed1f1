import type { SignalMap } from "../view.ts";
import { FINE_STRIPES, type FineResponse, fineRidge, fineStripes, goesOn } from "./between.ts";
import { negative, ridge, type Stripes, spreadOf, stepDown, stripeCentre, stripesOf } from "./blocks.ts";
import { type RowCurve, refineCurve, rowAt } from "./curves.ts";
import { frontPrior } from "./custom.ts";
import { undippedTo } from "./dipped.ts";
import { leadingEdge } from "./edge.ts";
import { frontMarks } from "./edgeMarks.ts";
import type { Evidence, Look } from "./evidence.ts";
import { type CurveSearch, curveSearch, findCurves } from "./findCurves.ts";
import { MARGIN, STRIPES, steps, stepsOf } from "./search.ts";
import { shortMarks } from "./shortMark.ts";
import type { Sketch } from "./sketch.ts";

/** What may be the front of a plate, each of its photos by itself. */
export function frontLooks(sketches: readonly Sketch[]): Look[] {
  const search = whereFrontsAre(sketches[0].map);
  return sketches.flatMap((one) => looksOf(one, search));
}

/**
 * A pencil line, a band that is darker or brighter than the layer at both sides, or a step in the ground: one look for each
 * kind and width, so that a front that shows in several ways counts for more.
 */
function looksOf(sketch: Sketch, search: CurveSearch): Look[] {
  const { map, grey: dark } = sketch;
  const { width, height } = map;
  // Few plates show a front in every way, and what lies between the lanes is only asked for where one was found.
  const fine = once(() => stripesOf(map.grey, FINE_STRIPES, MARGIN));
  const bright = once(() => negative(dark));
  const found: Look[] = [];
  for (const share of [0.011, 0.022, 0.04]) {
    const reach = Math.max(3, Math.round(share * height));
    const ridges = responseOf(ridge(dark, reach), () => fineRidge(fine(), reach), reach);
    for (const [sign, stripes, trust, near] of [
      [1, () => dark, 1, NEAR_EDGE],
      [-1, bright, 0.8, NEAR_EDGE_BRIGHT],
    ] as const) {
      const hits = frontHits(ridges, sign, search, { width, height }, trust, near);
      // The finest ridge is a pencil line's; the broader ones are the wet band's.
      found.push(share < 0.02 ? hits : hits.map((e) => ({ ...e, curve: leadingEdge(stripes(), e.curve, MARGIN) })));
    }
  }
  const reach = Math.max(4, Math.round(0.025 * height));
  const steep = responseOf(stepDown(dark, reach), () => fineStripes(stepDown(fine(), reach)), reach);
  const wetted = frontHits(steep, 1, search, { width, height }, 0.7, NEAR_EDGE);
  found.push(
    map.light === "uv365" ? wetted : wetted.map((e) => ({ ...e, weight: e.weight * asPale(steep.z, e.curve) })),
  );
  found.push(...markLooks(sketch));
  const undipped = undippedTo(map);
  // Pencil is as thin above that edge and upon it; of all else there, nobody can say what it is.
  const doubted = (e: Evidence) => (e.curve.y < undipped ? { ...e, weight: UNDIPPED * e.weight } : e);
  return found.map((look, k) => (k === 0 ? look : look.map(doubted)));
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

/** A layer is little darker where it is wet; a step as dark as spots is the upper side of a row of them. */
function asPale({ count, height, data }: Stripes, curve: RowCurve): number {
  let sum = 0;
  for (let b = 0; b < count; b++) {
    const y = Math.round(rowAt(curve, stripeCentre(b, count, MARGIN)) - 0.5);
    sum += data[b * height + Math.max(0, Math.min(height - 1, y))];
  }
  const { pale, dark, least } = WETTED;
  return Math.max(least, Math.min(1, (dark - sum / count) / (dark - pale)));
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

/** Short pencil marks at both edges, or a longer one at one edge, of people who draw no line across the layer. */
function markLooks(sketch: Sketch): Look[] {
  const { height } = sketch.map;
  const pairs = frontMarks(sketch.map, sketch.edges).map(({ clear, ...curve }) => {
    const plain = Math.min(1, (clear - PAIR.least) / (PAIR.clear - PAIR.least));
    return { curve, rms: 0.004 * height, weight: PAIR.weight * plain * frontPrior(curve.y / height) };
  });
  const short = shortMarks(sketch).map(({ score, ...curve }) => {
    return { curve, rms: 0.02 * height, weight: SHORT * score * frontPrior(curve.y / height) };
  });
  return [pairs, short];
}

/** Weight of marks at both edges, reached at so many ridge widths. */
const PAIR = { least: 4, clear: 14, weight: 1.2 };
/** Weight of a mark at one edge, of its mean response up to 3: a scratch may be as level. */
const SHORT = 0.3;

/** What is seen at or above the edge of a stain counts so much. */
const UNDIPPED = 0.1;

/** Mean response of a front, in noise widths. */
const FAINTEST = 0.6;

/** Nearer to the upper end of the plate than this, as a share of the height, a line is the edge of the layer. */
const EDGE = 0.012;
/** And up to this it may be, as a share of the longer side: how far a ragged rim reaches in does not hang on the height. */
const NEAR_EDGE = 0.035;
/** A bright one up to this: between the front and the dark rim the strip of dry layer is as bright a band. */
const NEAR_EDGE_BRIGHT = 0.06;

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
  { width, height }: Size,
  trust: number,
  near: number,
): Evidence[] {
  const how = { apart: reach, most: 4, least: FAINTEST, sign };
  const hits = findCurves(z, noise, search, how).filter((h) => h.even > FAINTEST);
  if (hits.length === 0) return [];
  const ridges = sign === 1 ? z : negative(z);
  return hits
    .map((h) => {
      const { curve, rms } = refineCurve(ridges, h, Math.max(2, Math.round(reach * 0.6)), noise, MARGIN, true);
      const like =
        goesOn(fine(), sign, curve, MARGIN) *
        frontPrior(h.y / height) *
        Math.min(1, (curve.y + curve.bow / 3) / Math.max(width, height) / near);
      return { curve, rms, weight: h.even * trust * like };
    })
    .filter(({ curve }) => curve.y > EDGE * height && [0.03, 0.97].every((u) => rowAt(curve, u) > ON_PLATE * height));
}
