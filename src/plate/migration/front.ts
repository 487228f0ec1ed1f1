import type { SignalMap } from "../view.ts";
import { FINE_STRIPES, goesOn } from "./between.ts";
import { ridge, type Stripes, spreadOf, stepDown, stripesOf } from "./blocks.ts";
import { findCurves, refineCurve } from "./curves.ts";
import { frontPrior } from "./custom.ts";
import { leadingEdge } from "./edge.ts";
import type { Evidence, Look } from "./evidence.ts";
import { MARGIN, STRIPES, steps } from "./search.ts";

/**
 * A pencil line, a band that is darker or brighter than the layer at both sides, or a step in the ground: one look for each
 * kind and width, so that a front that shows in several ways counts for more.
 */
export function frontLooks(map: SignalMap): Look[] {
  const { height } = map;
  const dark = stripesOf(map.grey, STRIPES, MARGIN);
  const fine = stripesOf(map.grey, FINE_STRIPES, MARGIN);
  const found: Look[] = [];
  for (const share of [0.011, 0.022, 0.04]) {
    const reach = Math.max(3, Math.round(share * height));
    for (const [stripes, narrow, trust, near] of [
      [dark, fine, 1, NEAR_EDGE],
      [negative(dark), negative(fine), 0.8, NEAR_EDGE_BRIGHT],
    ] as const) {
      const hits = frontHits(ridge(stripes, reach), ridge(narrow, reach), reach, height, trust, near);
      // The finest ridge is a pencil line's; the broader ones are the wet band's.
      found.push(share < 0.02 ? hits : hits.map((e) => ({ ...e, curve: leadingEdge(stripes, e.curve, MARGIN) })));
    }
  }
  const reach = Math.max(4, Math.round(0.025 * height));
  found.push(frontHits(stepDown(dark, reach), stepDown(fine, reach), reach, height, 0.7, NEAR_EDGE));
  return found;
}

function negative(stripes: Stripes): Stripes {
  return { ...stripes, data: stripes.data.map((v) => -v) };
}

/** Mean response of a front, in noise widths. */
const FAINTEST = 0.6;

/** Nearer to the upper end of the plate than this, as a share of the height, a line is the edge of the layer. */
const EDGE = 0.012;
/** And up to this it may be. */
const NEAR_EDGE = 0.035;
/** A bright one up to this: between the front and the dark rim the strip of dry layer is as bright a band. */
const NEAR_EDGE_BRIGHT = 0.06;

function frontHits(z: Stripes, fine: Stripes, reach: number, height: number, trust: number, near: number): Evidence[] {
  const noise = spreadOf(z);
  const hits = findCurves(
    z,
    noise,
    {
      from: Math.round(0.015 * height),
      to: Math.round(0.4 * height),
      tilts: steps(0.05 * height, 13),
      bows: steps(0.04 * height, 9),
      margin: MARGIN,
    },
    reach,
    4,
  );
  return hits
    .filter((h) => h.even > FAINTEST)
    .map((h) => {
      const { curve, rms } = refineCurve(z, h, Math.max(2, Math.round(reach * 0.6)), noise, MARGIN, true);
      const like = goesOn(fine, curve, MARGIN) * frontPrior(h.y / height) * Math.min(1, h.y / height / near);
      return { curve, rms, weight: h.even * trust * like };
    })
    .filter(({ curve }) => curve.y > EDGE * height);
}
