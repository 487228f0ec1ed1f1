import type { Light, PlateReading, Spot, SpotResponse } from "../../model/index.ts";
import type { Grouping } from "../grouping.ts";

/**
 * Change of the value written from which a spot counts as visible. The contract asks that 3 % be seen, with a contrast-to-noise
 * of 6, in the best channel; of spots just above that some are read a little weaker. What is written goes with the light to the
 * power 1 / 2.2.
 */
const VISIBLE_WRITTEN = 0.025;
const VISIBLE_DENSITY = -2.2 * Math.log10(1 - VISIBLE_WRITTEN);
/** A spot as read is weaker: channels are mixed and the camera blurs; about so much is left of a faint one. */
const VISIBLE_PEAK = 0.6 * VISIBLE_DENSITY;
const VISIBLE_CNR = 0.35 * 6;
/** The same of a glow over the light of the bare layer, which is no darker to a camera than so. */
const VISIBLE_GLOW = (1 + VISIBLE_WRITTEN) ** 2.2 - 1;
const DARK = 0.003;
/**
 * Log odds of being visible, fitted to 3201 spots of development plates whose truth is known: by the log of the weaker of
 * peak and contrast-to-noise over what is asked, by that of the density in the strongest colour, and by how sure it is
 * that there is a spot at all.
 */
const VISIBLE = { perWeaker: 1.44, perColour: 1.91, glow: 0.05, perSure: 0.33, base: -1 };
const PER_TIMES = VISIBLE.perWeaker + VISIBLE.perColour;
/** Beyond this (log) a spot is plain to see and only its strength goes on counting. */
const PLAIN = 3;
/** Above this peak density a layer answers less than in proportion. */
const STRAIGHT_PEAK = 0.8;
/** Relative scatter of an amount besides its own uncertainty: spot shape, layer, background. */
const READING_SCATTER = 0.2;
/** Relative scatter of the amount of a spot as high as the noise. */
const GROUND_SCATTER = 0.5;

/** Amount of one component in one lane. */
export interface LaneAmount {
  /** Probability that a spot here stands for the component. */
  readonly chance: number;
  /** Probability that this spot counts as visible. */
  readonly visible: number;
  readonly amount: number;
  readonly logSd: number;
  readonly overloaded: boolean;
}

/** Gains are kept above this share of the component's strongest. */
const LEAST_GAIN = 0.02;

/** How strongly each component answers to each light, relative to the one its amount is counted in, after scaling the lights. */
export interface LightGains {
  readonly scale: ReadonlyMap<Light, number>;
  /** The light that each component's amount is counted in: the one that nearly everything answers to, or the one it answers to most. */
  readonly countedIn: readonly (Light | null)[];
  /** One map per component. */
  readonly gain: readonly ReadonlyMap<Light, number>[];
}

/** How many times stronger a response is than one that just counts as visible. */
export function timesVisible({ light, contrastToNoise, peak, colour, bare }: SpotResponse): number {
  const log = (times: number) => Math.log(Math.max(1e-4, times));
  const clear = log(contrastToNoise / VISIBLE_CNR);
  const glow = light === "uv365" ? log(glowOf(colour, bare) / VISIBLE_GLOW) : null;
  const weaker = Math.min(clear, glow ?? log(Math.abs(peak) / VISIBLE_PEAK));
  const strongest = log(Math.max(...colour.map(Math.abs)) / VISIBLE_DENSITY);
  const byColour =
    glow === null ? VISIBLE.perColour * Math.min(PLAIN, strongest) : Math.min(VISIBLE.glow, VISIBLE.perColour * glow);
  const plain = Math.max(0, weaker - PLAIN);
  return Math.exp((VISIBLE.perWeaker * (weaker - plain) + byColour) / PER_TIMES + plain);
}

/**
 * By what share a spot at 365 nm is brighter than the layer beside it, in the channel that shows it best. On a dark ground
 * whatever stands out from the noise has contrast enough; behind a violet haze it has not.
 */
function glowOf(colour: SpotResponse["colour"], bare: SpotResponse["bare"]): number {
  if (!bare) return Infinity;
  const strength = colour.map(Math.abs);
  const most = Math.max(...strength);
  return Math.max(...strength.map((v, c) => (v < most / 2 ? 0 : v / Math.max(bare[c], DARK))));
}

/** Chance that a person asked to look would see the spot, or a `share` of it that stands alone. */
export function visibility(spot: Spot, share = 1): number {
  const sure = Math.min(0.998, Math.max(0.01, spot.confidence));
  const offset = VISIBLE.base + VISIBLE.perSure * Math.log(sure / (1 - sure));
  const best = spot.responses.map((r) => 1 / (1 + Math.exp(-PER_TIMES * Math.log(share * timesVisible(r)) - offset)));
  return best.length > 0 ? Math.max(...best.map((v) => (Number.isFinite(v) ? v : 0))) : 1;
}

interface Signal {
  readonly light: Light;
  readonly amount: number;
  /** Of noise, ground and reading: how surely something stands out at all. */
  readonly noise: number;
  /** How surely the amount is known; more than the noise where the layer answers less than in proportion. */
  readonly sd: number;
}

/** Signal of a spot under each light. */
function signals(spot: Spot): Signal[] {
  return spot.responses.map((r) => {
    const bent = r.peak > STRAIGHT_PEAK ? 0.5 * (r.peak / STRAIGHT_PEAK - 1) + 0.2 : 0;
    const amount = Math.abs(r.amount);
    // An unevenness of the ground can add up to an amount far beyond its noise; its height tells that nothing stands out.
    const ground = (GROUND_SCATTER * amount) / Math.max(0.1, r.contrastToNoise);
    const noise = Math.hypot(r.amountSd, READING_SCATTER * amount, ground);
    return { light: r.light, amount, noise, sd: Math.hypot(noise, bent * amount) };
  });
}

/** A signal this many times its noise is there, and this many times its sd is measured. */
const SIGNIFICANT = 4;
/**
 * A component that answers to the common light with less than this share of its best answer to absorbance or stain is
 * not counted in it: what unevenness of the ground leaves there would pass for its amount.
 */
const ANSWERS = 0.1;
/**
 * Until it is seen, a component is taken to answer to absorbance and stains alike, and hardly to fluoresce: most do not
 * (common practice, no source). That opinion counts as many median spots.
 */
const PRIOR_SPOTS = 0.05;
const PRIOR_FLUORESCENCE = 0.02;

/**
 * Brings the lights of a run on one scale: lights by the median ratio of spots that show under both; components by their
 * own mean signal under each light. Amounts are counted in the light that nearly everything answers to, where the
 * component does: absorbance and stains differ from substance to substance far less than fluorescence.
 */
export function lightGains(plates: readonly PlateReading[], grouping: Grouping): LightGains {
  const lights = [...new Set(plates.flatMap((p) => p.photos.map((f) => f.light)))].sort();
  const all = plates.flatMap((p) => p.lanes.flatMap((l) => l.spots.map(signals)));
  const scale = lightScale(lights, all);
  const common = commonLight(lights, all);
  const base = all.flatMap((list) => list.filter((s) => s.light === common && isMeasured(s)).map((s) => s.amount));
  const usual = base.length > 0 ? base.sort((a, b) => a - b)[base.length >> 1] / (scale.get(common) ?? 1) : 0;
  const components = grouping.rf.map((_, k) => {
    const sums = new Map(
      lights.map((l) => [
        l,
        {
          amount: PRIOR_SPOTS * usual * (l === common || l !== "uv365" ? 1 : PRIOR_FLUORESCENCE),
          seen: 0,
          variance: 0,
        },
      ]),
    );
    for (const lane of grouping.lanes) {
      for (const meaning of lane.spots) {
        if (meaning.alone[k] < 0.5) continue;
        const list = signals(spotAt(plates, lane.plate, lane.ref.lane, meaning.spot));
        if (list.length < lights.length) continue;
        for (const s of list) {
          const sum = sums.get(s.light)!;
          sum.amount += s.amount / (scale.get(s.light) ?? 1);
          sum.seen += s.amount / (scale.get(s.light) ?? 1);
          sum.variance += (s.sd / (scale.get(s.light) ?? 1)) ** 2;
        }
      }
    }
    const top = Math.max(...[...sums.values()].map((s) => s.amount), 0);
    const best = lights.reduce((a, b) => (sums.get(b)!.amount > sums.get(a)!.amount ? b : a), lights[0]);
    // A glow may outshine every stain by far and says nothing of how well the stain takes.
    const mostSeen = Math.max(0, ...lights.filter((l) => l !== "uv365").map((l) => sums.get(l)!.seen));
    const inCommon = sums.get(common);
    const answers =
      inCommon !== undefined &&
      inCommon.amount > SIGNIFICANT * Math.sqrt(inCommon.variance) &&
      inCommon.seen >= ANSWERS * mostSeen;
    const unit = answers ? inCommon.amount : top;
    return {
      countedIn: answers ? common : (best ?? null),
      gain: new Map(
        lights.map((l) => [l, top > 0 ? Math.max(LEAST_GAIN * top, sums.get(l)!.amount) / unit : 1] as const),
      ),
    };
  });
  return { scale, countedIn: components.map((c) => c.countedIn), gain: components.map((c) => c.gain) };
}

/** Signal of each light over that of the first, median over spots that show under both; 1 where too few do. */
function lightScale(lights: readonly Light[], all: readonly (readonly Signal[])[]): ReadonlyMap<Light, number> {
  const scale = new Map<Light, number>();
  for (const light of lights) {
    const ratios = all.flatMap((list) => {
      const own = list.find((s) => s.light === light);
      const base = list.find((s) => s.light === lights[0]);
      return own && base && isMeasured(own) && isMeasured(base) ? [own.amount / base.amount] : [];
    });
    scale.set(light, light === lights[0] || ratios.length < 3 ? 1 : ratios.sort((a, b) => a - b)[ratios.length >> 1]);
  }
  return scale;
}

/** The light, fluorescence left aside where there is another, under which most spots show; the first of equals. */
function commonLight(lights: readonly Light[], all: readonly (readonly Signal[])[]): Light {
  const able = lights.filter((l) => l !== "uv365" || lights.length === 1);
  const count = (l: Light) => all.filter((list) => list.some((s) => s.light === l && isThere(s))).length;
  return able.reduce((a, b) => (count(b) > count(a) ? b : a), able[0]);
}

function isThere(signal: Signal): boolean {
  return signal.amount > SIGNIFICANT * signal.noise;
}

function isMeasured(signal: Signal): boolean {
  return signal.amount > SIGNIFICANT * signal.sd;
}

function spotAt(plates: readonly PlateReading[], plate: number, lane: number, spot: number): Spot {
  return plates[plate].lanes.find((l) => l.index === lane)!.spots[spot];
}

/**
 * Amount of a spot taken for component `k`, in units of the light the component is counted in: from that light alone where
 * it shows the spot, because other lights bring the doubt about their gain with them; else lights combined by their weights.
 */
function combined(spot: Spot, gains: LightGains, k: number): { amount: number; logSd: number } {
  let weight = 0;
  let sum = 0;
  const all = signals(spot);
  const counted = all.find((s) => s.light === gains.countedIn[k] && isThere(s));
  for (const s of counted ? [counted] : all) {
    const scale = gains.scale.get(s.light) ?? 1;
    const gain = gains.gain[k].get(s.light) ?? 1;
    const sd = Math.max(1e-9, s.sd / scale);
    weight += (gain * gain) / (sd * sd);
    sum += (gain * (s.amount / scale)) / (sd * sd);
  }
  if (!(sum > 0)) return { amount: Math.max(1e-9, spot.amount), logSd: 1 };
  const amount = sum / weight;
  return { amount, logSd: Math.min(1.5, Math.max(0.05, 1 / Math.sqrt(weight) / amount)) };
}

/** Amount of every component in every lane: [lane][component], lanes as in the grouping. */
export function laneAmounts(plates: readonly PlateReading[], grouping: Grouping, gains: LightGains): LaneAmount[][] {
  return grouping.lanes.map((lane) =>
    grouping.rf.map((_, k) => {
      let chance = 0;
      let visible = 0;
      let weight = 0;
      let sum = 0;
      let logVar = 0;
      let overloaded = false;
      for (const meaning of lane.spots) {
        const spot = spotAt(plates, lane.plate, lane.ref.lane, meaning.spot);
        const ways = [
          { chance: meaning.alone[k], share: 1, sd: 0 },
          { chance: meaning.joint[k], ...jointShare(lane.places, k, spot.rf, true) },
          { chance: k > 0 ? meaning.joint[k - 1] : 0, ...jointShare(lane.places, k - 1, spot.rf, false) },
        ].filter((w) => w.chance > 0.005);
        if (ways.length === 0) continue;
        const whole = combined(spot, gains, k);
        let total = 0;
        for (const way of ways) {
          chance += way.chance;
          visible += way.chance * visibility(spot, Math.max(0.1, way.share));
          weight += way.chance;
          sum += way.chance * Math.log(whole.amount * way.share);
          logVar += way.chance * (whole.logSd ** 2 + way.sd ** 2);
          total += way.chance;
        }
        if (total > 0.5 && spot.flags.includes("overloaded")) overloaded = true;
      }
      if (weight === 0) return { chance: 0, visible: 0, amount: 0, logSd: 1, overloaded };
      return {
        chance: Math.min(1, chance),
        visible: visible / chance,
        amount: Math.exp(sum / weight),
        logSd: Math.sqrt(logVar / weight),
        overloaded,
      };
    }),
  );
}

/** Share of one of two components (`k` and the next) in a spot that stands for both, by where its centre lies; log sd. */
function jointShare(places: readonly number[], k: number, rf: number, upper: boolean): { share: number; sd: number } {
  if (k < 0 || k + 1 >= places.length) return { share: 1, sd: 0 };
  const gap = Math.max(0.01, places[k] - places[k + 1]);
  const at = Math.min(0.97, Math.max(0.03, (rf - places[k + 1]) / gap));
  const share = upper ? at : 1 - at;
  // A centre is known to about 0.005; of a small share that says little.
  return { share, sd: Math.min(1.3, Math.hypot(0.005 / gap, 0.08) / share) };
}
