import { jointDensity, placeDensity } from "./densities.ts";
import type { LaneObservation } from "./observations.ts";
import type { WidthModel } from "./widths.ts";

/** What one lane says of its spots and components, as probabilities. */
export interface LaneMatch {
  /** Log likelihood of the lane over all ways to match it. */
  logLikelihood: number;
  /** [spot x component] spot stands for this component alone. */
  readonly alone: Float64Array;
  /** [spot x component] spot stands for this component and the next one together. */
  readonly joint: Float64Array;
}

const NO_SPOTS = new Float64Array(0);

/** Room for a lane of `spots` spots and `components` components. */
export function newLaneMatch(spots: number, components: number): LaneMatch {
  if (spots === 0) return { logLikelihood: 0, alone: NO_SPOTS, joint: NO_SPOTS };
  return {
    logLikelihood: 0,
    alone: new Float64Array(spots * components),
    joint: new Float64Array(spots * components),
  };
}

let room = newRoom(64);

function newRoom(size: number) {
  return {
    size,
    f: new Float64Array(2 * size),
    g: new Float64Array(2 * size),
    alone: new Float64Array(size),
    joint: new Float64Array(size),
    none: new Float64Array(size),
  };
}

/** Scratch for a lattice of `size` nodes, kept from call to call because there are very many; f is cleared. */
function roomFor(size: number) {
  if (room.size < size) room = newRoom(2 * size);
  room.f.fill(0, 0, 2 * size);
  return room;
}

/**
 * Sums over every way to match the spots of a lane (highest Rf first) to the components (highest Rf first) that keeps
 * their order: a spot stands for one component, for two neighbours run together, or for nothing (dust); a component has
 * one spot or none. Forward and backward passes as for hidden Markov models (Baum et al. 1970).
 * @param places Rf of each component on this plate at this lane, falling
 * @param chance probability that each component shows in this lane
 * @param evidence [spot x component] likelihood ratio from colour and lights
 * @param sd2 variance of Rf common to all spots
 * @param widths how wide single spots are
 * @param present [component] filled with the chance that it shows in the lane, alone or together
 * @param elsewhere [spot x component] likelihood that a spot is that component's spot of another lane that claims it, too
 */
export function matchLane(
  lane: LaneObservation,
  places: Float64Array,
  chance: Float64Array,
  evidence: Float64Array,
  sd2: number,
  widths: WidthModel,
  out: LaneMatch,
  present: Float64Array,
  elsewhere: Float64Array | null = null,
): void {
  const n = lane.spots.length;
  const m = places.length;
  const w = m + 1;
  present.fill(0);
  if (n === 0) {
    out.logLikelihood = 0;
    for (let k = 0; k < m; k++) out.logLikelihood += Math.log(1 - chance[k]);
    return;
  }
  const size = (n + 1) * w;
  const { f, g, alone, joint, none } = roomFor(size);
  for (let i = 0; i < n; i++) {
    const spot = lane.spots[i];
    const variance = sd2 + spot.extraVar;
    none[i] = 1 - spot.real;
    for (let k = 0; k < m; k++) {
      if (elsewhere) none[i] += elsewhere[i * m + k];
      alone[i * m + k] =
        spot.real * chance[k] * placeDensity(spot.rf - places[k], variance) * evidence[i * m + k] * spot.single;
      joint[i * m + k] = 0;
      if (k + 1 === m) continue;
      const high = places[k];
      const low = places[k + 1];
      if (high - low > 1.2 * spot.width || spot.rf > high + 0.02 || spot.rf < low - 0.02) continue;
      const colour = Math.sqrt(evidence[i * m + k] * evidence[i * m + k + 1]);
      joint[i * m + k] =
        spot.real * chance[k] * chance[k + 1] * jointDensity(spot, high, low, variance, widths) * colour;
    }
  }
  // Two layers: after a component is passed over, dust must wait for the next match, so that every way counts once.
  f[0] = 1;
  for (let i = 0; i <= n; i++) {
    for (let k = 0; k <= m; k++) {
      const at = i * w + k;
      const both = f[at] + f[size + at];
      if (both === 0) continue;
      if (i < n) f[at + w] += f[at] * none[i];
      if (k < m) f[size + at + 1] += both * (1 - chance[k]);
      if (i < n && k < m) f[at + w + 1] += both * alone[i * m + k];
      if (i < n && k + 1 < m) f[at + w + 2] += both * joint[i * m + k];
    }
  }
  g[size - 1] = 1;
  g[2 * size - 1] = 1;
  for (let i = n; i >= 0; i--) {
    for (let k = m; k >= 0; k--) {
      const at = i * w + k;
      if (at === size - 1) continue;
      let shared = 0;
      if (k < m) shared += (1 - chance[k]) * g[size + at + 1];
      if (i < n && k < m) shared += alone[i * m + k] * g[at + w + 1];
      if (i < n && k + 1 < m) shared += joint[i * m + k] * g[at + w + 2];
      g[size + at] = shared;
      g[at] = shared + (i < n ? none[i] * g[at + w] : 0);
    }
  }
  const total = f[size - 1] + f[2 * size - 1];
  out.logLikelihood = Math.log(total + 1e-300);
  for (let i = 0; i < n; i++) {
    for (let k = 0; k < m; k++) {
      const at = i * w + k;
      const both = (f[at] + f[size + at]) / (total + 1e-300);
      const one = both * alone[i * m + k] * g[at + w + 1];
      const two = k + 1 < m ? both * joint[i * m + k] * g[at + w + 2] : 0;
      out.alone[i * m + k] = one;
      out.joint[i * m + k] = two;
      present[k] += one + two;
      if (two > 0) present[k + 1] += two;
    }
  }
}
