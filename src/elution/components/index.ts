import type { PlateReading } from "../../model/index.ts";
import type { Grouping, Hiding, SpotMeaning } from "../grouping.ts";
import { jointChance } from "./densities.ts";
import { type Explanation, elsewhere } from "./fit.ts";
import { type Ground, groundOf } from "./ground.ts";
import { type LaneObservation, observe } from "./observations.ts";
import { onPlate, scalePrior } from "./plateScale.ts";
import { oneWithNext, search } from "./search.ts";

/** How much of what is no spot lies where a spot of a component would. */
const MIRRORED = 0.8;

/**
 * Finds the substances behind all spots of all plates in one model: a smooth Rf scale for each plate, one track over
 * neighbouring tubes for each substance, and steady answers to the lights. See docs/methods/components.md.
 * @param plates in any order; the result does not depend on it
 */
export function groupSpots(plates: readonly PlateReading[]): Grouping {
  const { lanes, widths } = observe(plates);
  const ground = groundOf(lanes, widths, plates.map(scalePrior));
  const found = bestSearch(ground);
  return { ...groupingOf(ground, found), oneWithNext: oneWithNext(ground, found) };
}

/**
 * The better of two searches: plates laid on from the one that shows most, and from the one that has the first tubes. A
 * plate laid on wrongly in the beginning is not always set right later.
 */
function bestSearch(ground: Ground): Explanation {
  const order = layingOrder(ground);
  const first = ground.priors.map((_, p) =>
    Math.min(...ground.lanes.flatMap((l) => (l.plate === p && l.tube !== null ? [l.tube] : []))),
  );
  const natural = ground.priors.map((_, p) => p).sort((a, b) => first[a] - first[b] || a - b);
  const found = search(ground, order);
  if (order.every((p, i) => p === natural[i])) return found;
  const other = search(ground, natural);
  return other.score > found.score ? other : found;
}

/** The plate that shows most comes first; each next one is the nearest, in tubes, to those laid on before. */
function layingOrder(ground: Ground): number[] {
  const plates = ground.priors.map((_, p) => ground.lanes.filter((l) => l.plate === p));
  const spots = plates.map((lanes) => lanes.reduce((s, l) => s + l.spots.length, 0));
  const middle = plates.map((lanes) => {
    const tubes = lanes.flatMap((l) => (l.tube === null ? [] : [l.tube]));
    return tubes.length > 0 ? tubes.reduce((s, t) => s + t, 0) / tubes.length : 0;
  });
  const rest = plates.map((_, p) => p);
  const order: number[] = [];
  while (rest.length > 0) {
    const away = (p: number) =>
      order.length === 0 ? -spots[p] : Math.min(...order.map((o) => Math.abs(middle[o] - middle[p])));
    const next = rest.reduce((a, b) => (away(b) < away(a) ? b : a));
    order.push(next);
    rest.splice(rest.indexOf(next), 1);
  }
  return order;
}

function groupingOf(ground: Ground, e: Explanation): Omit<Grouping, "oneWithNext"> {
  const count = e.centres.length;
  const lanes = ground.lanes.map((lane, l) => {
    const places = e.centres.map((r) => onPlate(e.scales[lane.plate], r, lane.u));
    const others = elsewhere(ground, l, places, null, e.sd ** 2, e.present);
    const spots = lane.spots.map((spot, i) => {
      const at = <T extends Float64Array | null>(all: T) => [...(all?.subarray(i * count, (i + 1) * count) ?? [])];
      // What is no spot at all is found where spots are to be expected, too: a place that fits is no proof.
      const kept = 1 / (1 + (MIRRORED * (1 - spot.sure)) / spot.sure);
      const alone = at(e.matches[l].alone).map((p) => kept * p);
      const joint = at(e.matches[l].joint).map((p) => kept * p);
      return { spot: spot.spot, alone, joint, elsewhere: sharedOut(alone, joint, at(others), 1 - spot.real) };
    });
    return {
      ref: lane.ref,
      plate: lane.plate,
      label: lane.label,
      tube: lane.tube,
      spots,
      places,
      expected: [...e.expected.subarray(l * count, (l + 1) * count)],
      hiding: places.map((_, k) => hidingOf(ground, e, lane, spots, places, k)),
    };
  });
  return { rf: e.centres, rfSd: e.centreSds, lanes };
}

/** What is left of a spot after `alone` and `joint`, shared out by the likelihoods to be another lane's and to be `dust`. */
function sharedOut(alone: number[], joint: number[], others: number[], dust: number): number[] {
  const left = Math.max(0, 1 - [...alone, ...joint].reduce((s, p) => s + p, 0));
  const all = others.reduce((s, p) => s + p, dust);
  return alone.map((_, k) => (left * (others[k] ?? 0)) / Math.max(1e-12, all));
}

/** The likeliest of the spots of component `k`'s two neighbours in which it would be lost. */
function hidingOf(
  ground: Ground,
  e: Explanation,
  lane: LaneObservation,
  spots: readonly SpotMeaning[],
  places: readonly number[],
  k: number,
): Hiding | null {
  let best: Hiding | null = null;
  for (const j of [k - 1, k + 1]) {
    if (j < 0 || j >= places.length) continue;
    spots.forEach((meaning, i) => {
      const spot = lane.spots[i];
      const gap = places[k] - places[j];
      const chance = meaning.alone[j] * jointChance(Math.abs(gap), spot.width);
      if (chance < 0.05 || (best && best.chance >= chance)) return;
      best = {
        neighbour: j,
        chance,
        gap,
        off: spot.rf - places[j],
        offSd: Math.sqrt(e.sd ** 2 + spot.extraVar),
        excess: Math.log(spot.width) - spot.singleLog,
        excessSd: ground.widths.sd,
        single: Math.exp(spot.singleLog),
      };
    });
  }
  return best;
}
