import { blankStart, type Explanation, type Ground, refine, type Start } from "./fit.ts";
import { type LaneMatch, matchLane, newLaneMatch } from "./laneMatch.ts";
import type { LaneObservation } from "./observations.ts";
import { offPlate, onPlate, type PlateScale, SCALE_TERMS } from "./plateScale.ts";

/** A move must better the score by this much. */
const WORTH = 0.3;
const MAX_COMPONENTS = 40;
/** Components nearer than this may be one, or run together. */
const CLOSE = 0.06;

/**
 * Finds the explanation with the best score: plates are laid on one another one after the other, then components are
 * added, split, joined and dropped, and plates shifted, as long as that betters the score. Deterministic.
 * @param plateOrder plates in the order in which they are laid on
 */
export function search(ground: Ground, plateOrder: readonly number[]): Explanation {
  let best = layPlates(ground, plateOrder);
  for (let pass = 0; pass < 12; pass++) {
    const better = bestMove(ground, best) ?? bestShift(ground, best, plateOrder);
    if (!better) break;
    best = better;
  }
  return refine(ground, startOf(best), 4);
}

function startOf(e: Explanation, centres: readonly number[] = e.centres): Start {
  return { centres, scales: e.scales, sd: e.sd, present: e.present, features: e.features, given: null };
}

/** Centres that one-dimensional clusters of spots suggest, nearer than `gap` counting as one. */
function clusters(rfs: readonly number[], gap: number): number[] {
  const sorted = [...rfs].sort((a, b) => b - a);
  const out: number[] = [];
  let members: number[] = [];
  for (const rf of sorted) {
    if (members.length > 0 && members[0] - rf > gap) {
      out.push(members.reduce((s, v) => s + v, 0) / members.length);
      members = [];
    }
    members.push(rf);
  }
  if (members.length > 0) out.push(members.reduce((s, v) => s + v, 0) / members.length);
  return out;
}

/** The plates so far, with one more laid on where it fits best. */
function layPlates(ground: Ground, plateOrder: readonly number[]): Explanation {
  let start = blankStart(ground, []);
  let explained: Explanation | null = null;
  const laid = new Set<number>();
  for (const plate of plateOrder) {
    if (explained) start = { ...start, scales: fitOne(ground, explained, plate) };
    laid.add(plate);
    const part = portion(ground, laid);
    const loose: number[] = [];
    ground.lanes.forEach((lane) => {
      if (lane.plate !== plate) return;
      for (const spot of lane.spots) {
        const rf = offPlate(start.scales[plate], spot.rf, lane.u);
        if (spot.real > 0.3 && !start.centres.some((c) => Math.abs(c - rf) < 0.015)) loose.push(rf);
      }
    });
    const centres = [...start.centres, ...clusters(loose, 0.02)].slice(0, MAX_COMPONENTS);
    explained = refine(part, { ...start, centres, present: null, features: null }, 4);
    explained = prune(part, explained);
    start = startOf(explained);
  }
  return refine(ground, start, 3);
}

/** The ground with the spots of plates not yet laid on left out. */
function portion(ground: Ground, laid: ReadonlySet<number>): Ground {
  if (laid.size === ground.priors.length) return ground;
  const lanes = ground.lanes.map((lane) =>
    laid.has(lane.plate) ? lane : { ...lane, tube: null, label: "", spots: [] },
  );
  const around = ground.around.lanes.map((list) => list.filter((n) => laid.has(ground.lanes[n.lane].plate)));
  return { ...ground, lanes, around: { ...ground.around, lanes: around } };
}

/** Drops, one by one, the components that the score is better without. */
function prune(ground: Ground, from: Explanation): Explanation {
  let best = from;
  for (;;) {
    const weak = weakest(ground, best);
    if (weak === null) return best;
    const without = refine(ground, leavingOut(best, weak), 2);
    if (without.score <= best.score) return best;
    best = without;
  }
}

function weakest(ground: Ground, e: Explanation): number | null {
  const count = e.centres.length;
  let weak: number | null = null;
  let least = Number.POSITIVE_INFINITY;
  for (let k = 0; k < count; k++) {
    let sum = 0;
    for (let l = 0; l < ground.lanes.length; l++) sum += e.present[l * count + k];
    if (sum < least) {
      least = sum;
      weak = k;
    }
  }
  return weak;
}

function leavingOut(e: Explanation, k: number): Start {
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

/** The best of all single changes to the components, or null where none is worth it. */
function bestMove(ground: Ground, e: Explanation): Explanation | null {
  const starts: Start[] = [
    ...births(ground, e),
    ...splits(ground, e),
    ...joins(e),
    ...covers(e),
    ...e.centres.map((_, k) => leavingOut(e, k)),
  ];
  let best: Explanation | null = null;
  for (const start of starts) {
    if (start.centres.length > MAX_COMPONENTS) continue;
    const tried = refine(ground, start, 3);
    if (tried.score > (best ?? e).score + (best ? 0 : WORTH)) best = tried;
  }
  return best;
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
function joins(e: Explanation): Start[] {
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
    const given = e.matches.map((match) => {
      const alone = Float64Array.from(match.alone);
      if (Math.abs(match.present[k] - match.present[k + 1]) < 0.5) return alone;
      for (let at = k; at < alone.length; at += count) alone[at] = alone[at + 1] = 0;
      return alone;
    });
    out.push({ ...startOf(e), present, given });
  }
  return out;
}

/** For each component, the chance that it and the next one are one substance: from what joining them does to the score. */
export function oneWithNext(ground: Ground, e: Explanation): number[] {
  const chances = e.centres.map(() => 0);
  for (const start of joins(e)) {
    const joined = start.centres.findIndex((c, k) => c !== e.centres[k]);
    chances[joined] = 1 / (1 + Math.exp(e.score - refine(ground, start, 3).score));
  }
  return chances;
}

/** Each plate on a grid of shifts and stretches: the first that betters the score. */
function bestShift(ground: Ground, e: Explanation, plateOrder: readonly number[]): Explanation | null {
  if (plateOrder.length < 2) return null;
  for (const plate of plateOrder) {
    const scales = fitOne(ground, e, plate);
    if (scales[plate].every((v, t) => Math.abs(v - e.scales[plate][t]) < 1e-9)) continue;
    const tried = refine(ground, { ...startOf(e), scales, present: e.present }, 3);
    if (tried.score > e.score + WORTH) return tried;
  }
  return null;
}

/** Plate scales with that of one plate replaced by the best of a grid, all else as it stands. */
function fitOne(ground: Ground, e: Explanation, plate: number): PlateScale[] {
  const count = e.centres.length;
  const prior = ground.priors[plate];
  const expected = new Float64Array(count);
  const places = new Float64Array(count);
  let best = e.scales[plate];
  let top = Number.NEGATIVE_INFINITY;
  const rate = (scale: PlateScale) => {
    let score = 0;
    for (let t = 0; t < SCALE_TERMS; t++) score -= 0.5 * (scale[t] / prior[t]) ** 2;
    ground.lanes.forEach((lane) => {
      if (lane.plate !== plate || lane.spots.length === 0) return;
      expectedAt(ground, e, lane.tube, plate, expected);
      for (let k = 0; k < count; k++) places[k] = onPlate(scale, e.centres[k], lane.u);
      const match = newLaneMatch(lane.spots.length, count);
      matchLane(
        lane,
        places,
        expected,
        new Float64Array(lane.spots.length * count).fill(1),
        e.sd * e.sd,
        ground.widths,
        match,
      );
      score += match.logLikelihood;
    });
    return score;
  };
  const candidates: PlateScale[] = [e.scales[plate]];
  for (let a = -2.5; a <= 2.5; a += 0.5)
    for (let b = -1.5; b <= 1.5; b += 0.75) candidates.push(Float64Array.of(a * prior[0], b * prior[1], 0, 0));
  for (const scale of candidates) {
    const score = rate(scale);
    if (score > top + 1e-9) {
      top = score;
      best = scale;
    }
  }
  return e.scales.map((s, p) => (p === plate ? best : s));
}

/** Chance of each component in a tube, from the lanes of the other plates alone. */
function expectedAt(ground: Ground, e: Explanation, tube: number | null, plate: number, out: Float64Array): void {
  const count = e.centres.length;
  for (let k = 0; k < count; k++) {
    let sum = 0.1;
    let all = 0.4;
    ground.lanes.forEach((lane, l) => {
      if (lane.plate === plate || (lane.tube === null) !== (tube === null)) return;
      const w = tube === null ? 1 : Math.exp(-Math.abs((lane.tube ?? 0) - tube) / 2);
      sum += w * e.present[l * count + k];
      all += w;
    });
    out[k] = Math.min(0.97, Math.max(0.01, sum / all));
  }
}
