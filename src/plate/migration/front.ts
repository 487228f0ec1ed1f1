import type { SignalMap } from "../view.ts";
import { FINE_STRIPES, goesOn } from "./between.ts";
import { ridge, type Stripes, spreadOf, stepDown, stripesOf } from "./blocks.ts";
import { findCurves, refineCurve, rowAt } from "./curves.ts";
import { frontPrior } from "./custom.ts";
import { undippedTo } from "./dipped.ts";
import { leadingEdge } from "./edge.ts";
import { frontMarks } from "./edgeMarks.ts";
import type { Evidence, Look } from "./evidence.ts";
import { MARGIN, STRIPES, steps, stepsOf } from "./search.ts";
import { shortMarks } from "./shortMark.ts";

/**
 * A pencil line, a band that is darker or brighter than the layer at both sides, or a step in the ground: one look for each
 * kind and width, so that a front that shows in several ways counts for more.
 */
export function frontLooks(map: SignalMap): Look[] {
  const { width, height } = map;
  const dark = stripesOf(map.grey, STRIPES, MARGIN);
  const fine = stripesOf(map.grey, FINE_STRIPES, MARGIN);
  const found: Look[] = [];
  for (const share of [0.011, 0.022, 0.04]) {
    const reach = Math.max(3, Math.round(share * height));
    for (const [stripes, narrow, trust, near] of [
      [dark, fine, 1, NEAR_EDGE],
      [negative(dark), negative(fine), 0.8, NEAR_EDGE_BRIGHT],
    ] as const) {
      const hits = frontHits(ridge(stripes, reach), ridge(narrow, reach), reach, { width, height }, trust, near);
      // The finest ridge is a pencil line's; the broader ones are the wet band's.
      found.push(share < 0.02 ? hits : hits.map((e) => ({ ...e, curve: leadingEdge(stripes, e.curve, MARGIN) })));
    }
  }
  const reach = Math.max(4, Math.round(0.025 * height));
  found.push(frontHits(stepDown(dark, reach), stepDown(fine, reach), reach, { width, height }, 0.7, NEAR_EDGE));
  found.push(...markLooks(map));
  const undipped = undippedTo(map);
  // Pencil is as thin above that edge and upon it; of all else there, nobody can say what it is.
  const doubted = (e: Evidence) => (e.curve.y < undipped ? { ...e, weight: UNDIPPED * e.weight } : e);
  return found.map((look, k) => (k === 0 ? look : look.map(doubted)));
}

/** Short pencil marks at both edges, or a longer one at one edge, of people who draw no line across the layer. */
function markLooks(map: SignalMap): Look[] {
  const { height } = map;
  const pairs = frontMarks(map).map(({ clear, ...curve }) => {
    const plain = Math.min(1, (clear - PAIR.least) / (PAIR.clear - PAIR.least));
    return { curve, rms: 0.004 * height, weight: PAIR.weight * plain * frontPrior(curve.y / height) };
  });
  const short = shortMarks(map).map(({ score, ...curve }) => {
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

function negative(stripes: Stripes): Stripes {
  return { ...stripes, data: stripes.data.map((v) => -v) };
}

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

function frontHits(
  z: Stripes,
  fine: Stripes,
  reach: number,
  { width, height }: Size,
  trust: number,
  near: number,
): Evidence[] {
  const noise = spreadOf(z);
  const hits = findCurves(
    z,
    noise,
    {
      from: Math.round(0.015 * height),
      to: Math.round(0.4 * height),
      tilts: stepsOf(Math.max(0.05 * height, 0.09 * width), 0.0083 * height),
      bows: steps(0.06 * height, 13),
      margin: MARGIN,
    },
    reach,
    4,
  );
  return hits
    .filter((h) => h.even > FAINTEST)
    .map((h) => {
      const { curve, rms } = refineCurve(z, h, Math.max(2, Math.round(reach * 0.6)), noise, MARGIN, true);
      const like =
        goesOn(fine, curve, MARGIN) *
        frontPrior(h.y / height) *
        Math.min(1, (curve.y + curve.bow / 3) / Math.max(width, height) / near);
      return { curve, rms, weight: h.even * trust * like };
    })
    .filter(({ curve }) => curve.y > EDGE * height && [0.03, 0.97].every((u) => rowAt(curve, u) > ON_PLATE * height));
}
