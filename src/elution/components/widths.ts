import { normalDensity } from "../../math/normal.ts";

/** How wide single spots of this run are, so that a wider one can be told for two run together. */
export interface WidthModel {
  /** ln width = base + slope x ln amount + what is the plate's own. */
  readonly base: number;
  readonly slope: number;
  /** One entry per plate. */
  readonly plates: Float64Array;
  /** Scatter of ln width. */
  readonly sd: number;
}

export interface SpotWidth {
  readonly plate: number;
  /** Full width at half maximum, Rf. */
  readonly width: number;
  readonly logAmount: number;
  /** Chance that a spot is here at all. */
  readonly real: number;
}

/** Scatter of ln width before anything is seen, of whole plates (measured on development plates), and of dust, which has any width. */
const USUAL = 0.12;
const OF_PLATES = 0.14;
const ANY = 0.4;
/** ln 2 x 8: full width at half maximum squared over variance. */
const FWHM2 = 8 * Math.LN2;

/**
 * Width against amount over all spots of a run, plates wider or narrower as a whole: least squares with the too wide
 * ones, which may be two, weighed down (eight rounds), shrunk to no slope and to like plates where there are few spots.
 * @param plates how many plates there are
 */
export function widthModel(spots: readonly SpotWidth[], plates: number): WidthModel {
  const used = spots.filter((s) => s.real > 0.5);
  const own = new Float64Array(plates);
  if (used.length === 0) return { base: Math.log(0.05), slope: 0, plates: own, sd: 2 * USUAL };
  const x = used.map((s) => s.logAmount);
  const y = used.map((s) => Math.log(s.width));
  const centre = x.reduce((s, v) => s + v, 0) / x.length;
  let base = [...y].sort((a, b) => a - b)[y.length >> 1];
  let slope = 0;
  let sd = USUAL;
  for (let round = 0; round < 8; round++) {
    let sw = 1e-9;
    let sx = 0;
    let sy = 0;
    let sxx = 5;
    let sxy = 0;
    let squares = 6 * USUAL * USUAL;
    let weight = 6;
    const ofPlate = new Float64Array(plates);
    const weights = new Float64Array(plates);
    x.forEach((v, i) => {
      const { plate } = used[i];
      const off = y[i] - base - own[plate] - slope * (v - centre);
      const w = off > 1.2 * sd ? (1.2 * sd) / off / (1 + (off / sd - 1.2)) : off < -2 * sd ? (-2 * sd) / off : 1;
      const alike = y[i] - own[plate];
      sw += w;
      sx += w * (v - centre);
      sy += w * alike;
      sxx += w * (v - centre) ** 2;
      sxy += w * (v - centre) * alike;
      squares += w * Math.min(off * off, 9 * sd * sd);
      weight += w;
      weights[plate] += w;
      ofPlate[plate] += w * (off + own[plate]);
    });
    const d = sw * sxx - sx * sx;
    slope = (sw * sxy - sx * sy) / d;
    base = (sy - slope * sx) / sw;
    sd = Math.min(0.2, Math.max(0.08, Math.sqrt(squares / weight)));
    for (let p = 0; p < plates; p++) own[p] = ofPlate[p] / (weights[p] + (sd / OF_PLATES) ** 2);
  }
  return { base: base - slope * centre, slope, plates: own, sd };
}

/** ln width to be expected of a single spot. */
export function singleLogWidth({ plate, logAmount }: SpotWidth, model: WidthModel): number {
  return model.base + model.slope * logAmount + model.plates[plate];
}

/** Likelihood ratio of a spot's width, single spot against dust. */
export function singleWidth(spot: SpotWidth, model: WidthModel): number {
  return likelihood(Math.log(spot.width), singleLogWidth(spot, model), model.sd);
}

/**
 * Likelihood ratio of a spot's width, two spots `gap` Rf apart run together against dust.
 * @param single ln width of a single spot
 * @param share of the upper one, 0..1
 */
export function jointWidth(width: number, single: number, gap: number, share: number, model: WidthModel): number {
  const both = 0.5 * Math.log(Math.exp(2 * single) + FWHM2 * share * (1 - share) * gap * gap);
  return likelihood(Math.log(width), both, Math.hypot(model.sd, 0.06));
}

function likelihood(log: number, expected: number, sd: number): number {
  const off = log - expected;
  const broad = normalDensity(off / ANY, ANY);
  return (0.9 * normalDensity(off / sd, sd) + 0.1 * broad) / Math.max(broad, 0.05);
}
