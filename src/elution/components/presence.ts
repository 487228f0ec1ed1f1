import type { LaneObservation } from "./observations.ts";

/** Chance of a component in a tube far from any that shows it, and how many tubes' worth that opinion counts. */
const FAR_CHANCE = 0.04;
const FAR_WEIGHT = 0.35;
/** Chance that a tube shows a component that no other tube does: narrow peaks are seen once, above all where tubes are skipped. */
const ONCE_CHANCE = 0.3;
/** The same for a reference lane: a crude shows most of what there is. */
const REFERENCE_CHANCE = 0.6;
const REFERENCE_WEIGHT = 0.5;
/** Tubes over which neighbours lose their say, in typical steps between spotted tubes. */
const REACH = 1.2;

/** A component seen on both sides of a tube is in it, too: how surely, and over how many tubes that fades (log). */
const BETWEEN = 0.9;
const BETWEEN_REACH = 8;

/** For each lane, the other lanes that tell whether a component is to be expected there, with their weights. */
export interface Neighbourhood {
  readonly lanes: readonly (readonly { readonly lane: number; readonly weight: number }[])[];
  /** The lanes of each spotted tube, tubes rising. */
  readonly order: readonly (readonly number[])[];
  /** How much of what is seen at the spotted tube before still holds at each (0..1). */
  readonly fade: Float64Array;
}

/** Neighbouring tubes hold the same; lanes of one name (crude) hold the same. Worked out once for a run. */
export function neighbourhood(lanes: readonly LaneObservation[]): Neighbourhood {
  const tubes = [...new Set(lanes.map((l) => l.tube).filter((t) => t !== null))].sort((a, b) => a - b);
  const gaps = tubes.slice(1).map((t, i) => t - tubes[i]);
  const step = gaps.length > 0 ? gaps.sort((a, b) => a - b)[gaps.length >> 1] : 1;
  return {
    order: tubes.map((t) => lanes.flatMap((l, i) => (l.tube === t ? [i] : []))),
    fade: Float64Array.from(tubes, (t, i) => (i === 0 ? 0 : Math.exp(-(t - tubes[i - 1]) / step / BETWEEN_REACH))),
    lanes: lanes.map((lane, i) =>
      lanes.flatMap((other, j) => {
        if (i === j) return [];
        if (lane.tube === null)
          return other.tube === null && other.label === lane.label ? [{ lane: j, weight: 1 }] : [];
        if (other.tube === null) return [];
        const distance = Math.abs(lane.tube - other.tube) / step;
        return distance > 4 * REACH ? [] : [{ lane: j, weight: Math.exp(-distance / REACH) }];
      }),
    ),
  };
}

/**
 * Chance that each component shows in each lane, from what all the other lanes show (the lane itself left out): the
 * neighbours' mean, and, because a substance elutes once, more where it is seen on both sides.
 * @param present [lane x component] probability that the component shows there
 * @param out [lane x component], each within 0.005 and 0.97
 */
export function expectedPresence(
  lanes: readonly LaneObservation[],
  around: Neighbourhood,
  present: Float64Array,
  components: number,
  out: Float64Array,
): void {
  for (let l = 0; l < lanes.length; l++) {
    const reference = lanes[l].tube === null;
    const weight = reference ? REFERENCE_WEIGHT : FAR_WEIGHT;
    const far = reference ? REFERENCE_CHANCE : FAR_CHANCE;
    const neighbours = around.lanes[l];
    let all = weight;
    for (const n of neighbours) all += n.weight;
    for (let k = 0; k < components; k++) {
      let sum = weight * far;
      for (const n of neighbours) sum += n.weight * present[n.lane * components + k];
      out[l * components + k] = sum / all;
    }
  }
  for (let k = 0; k < components; k++) {
    let all = 0;
    for (let l = 0; l < lanes.length; l++) if (lanes[l].tube !== null) all += present[l * components + k];
    for (let l = 0; l < lanes.length; l++) {
      const once = lanes[l].tube === null ? 0 : ONCE_CHANCE * Math.exp(-2 * (all - present[l * components + k]));
      if (once > out[l * components + k]) out[l * components + k] = once;
    }
  }
  for (let k = 0; k < components; k++) between(around, present, components, k, out);
  for (let i = 0; i < out.length; i++) out[i] = Math.min(0.97, Math.max(0.005, out[i]));
}

/** Raises the chance of component `k` in tubes between two that show it. */
function between(around: Neighbourhood, present: Float64Array, components: number, k: number, out: Float64Array): void {
  const tubes = around.order.length;
  const shown = new Float64Array(tubes);
  const before = new Float64Array(tubes);
  for (let t = 0; t < tubes; t++) {
    for (const l of around.order[t]) shown[t] = Math.max(shown[t], present[l * components + k]);
    if (t > 0) before[t] = Math.max(before[t - 1], shown[t - 1]) * around.fade[t];
  }
  let after = 0;
  for (let t = tubes - 2; t >= 0; t--) {
    after = Math.max(after, shown[t + 1]) * around.fade[t + 1];
    const both = BETWEEN * before[t] * after;
    for (const l of around.order[t]) out[l * components + k] += (1 - out[l * components + k]) * both;
  }
}
