import { clusters } from "./clusters.ts";
import { type Explanation, type Start, startOf } from "./fit.ts";
import type { Ground } from "./ground.ts";
import type { LaneMatch } from "./laneMatch.ts";
import type { LaneObservation } from "./observations.ts";
import { offPlate, onPlate } from "./plateScale.ts";

/** Components nearer than this may be one, or run together. */
const CLOSE = 0.06;
/** A component that this many spots stand for is not tried to be left out. */
const WELL_SEEN = 3;

/** All single changes to the components that may better an explanation. */
export function moves(ground: Ground, e: Explanation): Start[] {
  const count = e.centres.length;
  const weak = e.centres.flatMap((_, k) => {
    let seen = 0;
    for (let at = k; at < e.present.length; at += count) seen += e.present[at];
    return seen < WELL_SEEN ? [k] : [];
  });
  return [...births(ground, e), ...splits(ground, e), ...joins(e), ...covers(e), ...weak.map((k) => leavingOut(e, k))];
}

/** Without component `k`. */
export function leavingOut(e: Explanation, k: number): Start {
  return resized(
    e,
    (all) => all.filter((_, i) => i !== k),
    e.centres.filter((_, i) => i !== k),
  );
}

/** A start whose columns are picked from those of an explanation by `pick`, applied to the list of column numbers. */
function resized(e: Explanation, pick: (columns: number[]) => number[], centres: readonly number[]): Start {
  const count = e.centres.length;
  const columns = pick(e.centres.map((_, k) => k));
  const lanes = count > 0 ? e.present.length / count : 0;
  const present = new Float64Array(lanes * columns.length);
  for (let l = 0; l < lanes; l++) {
    columns.forEach((from, to) => {
      present[l * columns.length + to] = e.present[l * count + from];
    });
  }
  return { centres, scales: e.scales, sd: e.sd, present, features: columns.map((k) => e.features[k]), given: null };
}

/** New components where spots are left unexplained. */
function births(ground: Ground, e: Explanation): Start[] {
  const count = e.centres.length;
  const loose: number[] = [];
  ground.lanes.forEach((lane, l) => {
    lane.spots.forEach((spot, i) => {
      let matched = 0;
      for (let k = 0; k < count; k++) matched += e.matches[l].alone[i * count + k] + e.matches[l].joint[i * count + k];
      if (matched < 0.6 && spot.real > 0.2) loose.push(offPlate(e.scales[lane.plate], spot.rf, lane.u));
    });
  });
  const lanes = ground.lanes.length;
  return clusters(loose, 0.015).map((rf) => {
    const present = new Float64Array(lanes * (count + 1)).fill(0.3);
    for (let l = 0; l < lanes; l++)
      for (let k = 0; k < count; k++) present[l * (count + 1) + k] = e.present[l * count + k];
    return { centres: [...e.centres, rf], scales: e.scales, sd: e.sd, present, features: null, given: null };
  });
}

/** Each component in two: high against low, and the earlier tubes' spots against the later ones' at some likely cuts. */
function splits(ground: Ground, e: Explanation): Start[] {
  const count = e.centres.length;
  return e.centres.flatMap((centre, k) => {
    const twice = (a: number, b: number) =>
      resized(e, (all) => [...all.slice(0, k + 1), ...all.slice(k)], [
        ...e.centres.slice(0, k),
        centre + a,
        centre + b,
        ...e.centres.slice(k + 1),
      ]);
    let squares = 0;
    let weight = 0;
    const tubes = new Set<number>();
    ground.lanes.forEach((lane, l) => {
      lane.spots.forEach((spot, i) => {
        const z = e.matches[l].alone[i * count + k] + e.matches[l].joint[i * count + k];
        if (z < 0.3) return;
        squares += (z * (spot.rf - onPlate(e.scales[lane.plate], centre, lane.u)) ** 2) / (e.sd ** 2 + spot.extraVar);
        weight += z;
        if (lane.tube !== null) tubes.add(lane.tube);
      });
    });
    if (weight < 1.5) return [];
    const starts = cuts(
      ground,
      [...tubes].sort((a, b) => a - b),
    ).map((cut) => {
      const start = twice(0.002, -0.002);
      return { ...start, given: ground.lanes.map((lane, l) => divided(lane, e.matches[l], count, k, cut)) };
    });
    return squares > 0.5 * weight ? [twice(0.015, -0.015), ...starts] : starts;
  });
}

/** Tubes after which a substance may end and another begin: at the widest gap, a third and two thirds on, plate ends. */
function cuts(ground: Ground, tubes: readonly number[]): number[] {
  if (tubes.length < 2) return [];
  const found = new Set<number>();
  let widest = 0;
  for (let i = 1; i < tubes.length; i++)
    if (tubes[i] - tubes[i - 1] > tubes[widest + 1] - tubes[widest]) widest = i - 1;
  found.add(tubes[widest]);
  for (const share of [0.33, 0.67])
    found.add(tubes[Math.min(tubes.length - 2, Math.max(0, Math.round(share * tubes.length) - 1))]);
  const plateOf = new Map(ground.lanes.flatMap((l) => (l.tube === null ? [] : [[l.tube, l.plate] as const])));
  for (let i = 1; i < tubes.length; i++)
    if (plateOf.get(tubes[i]) !== plateOf.get(tubes[i - 1])) found.add(tubes[i - 1]);
  return [...found].slice(0, 5);
}

/** Meanings of a lane's spots with component `k` in two: tubes up to `cut` to the upper one, reference lanes to both. */
function divided(lane: LaneObservation, match: LaneMatch, count: number, k: number, cut: number): Float64Array {
  const out = new Float64Array(lane.spots.length * (count + 1));
  lane.spots.forEach((_, i) => {
    for (let j = 0; j < count; j++) {
      const z = match.alone[i * count + j];
      if (j !== k) out[i * (count + 1) + (j > k ? j + 1 : j)] = z;
      else if (lane.tube === null) {
        out[i * (count + 1) + k] = 0.1 * z;
        out[i * (count + 1) + k + 1] = 0.1 * z;
      } else out[i * (count + 1) + (lane.tube <= cut ? k : k + 1)] = z;
    }
  });
  return out;
}

/** Each two neighbours as one. */
export function joins(e: Explanation): Start[] {
  const out: Start[] = [];
  for (let k = 0; k + 1 < e.centres.length; k++) {
    if (e.centres[k] - e.centres[k + 1] > CLOSE) continue;
    const middle = 0.5 * (e.centres[k] + e.centres[k + 1]);
    out.push(
      resized(e, (all) => all.filter((i) => i !== k + 1), [
        ...e.centres.slice(0, k),
        middle,
        ...e.centres.slice(k + 2),
      ]),
    );
  }
  return out;
}

/** Each two close neighbours wherever either shows: where they always run together, neither of them is missing. */
function covers(e: Explanation): Start[] {
  const count = e.centres.length;
  const out: Start[] = [];
  for (let k = 0; k + 1 < count; k++) {
    if (e.centres[k] - e.centres[k + 1] > CLOSE) continue;
    const present = Float64Array.from(e.present);
    for (let at = k; at < present.length; at += count) {
      present[at] = Math.max(e.present[at], e.present[at + 1]);
      present[at + 1] = present[at];
    }
    // Where one shows without the other the spot is taken for both, so that it says nothing of either's place.
    const given = e.matches.map((match, l) => {
      const alone = Float64Array.from(match.alone);
      if (Math.abs(e.present[l * count + k] - e.present[l * count + k + 1]) < 0.5) return alone;
      for (let at = k; at < alone.length; at += count) alone[at] = alone[at + 1] = 0;
      return alone;
    });
    out.push({ ...startOf(e), present, given });
  }
  return out;
}
