import { normalDensity } from "../../math/normal.ts";

/** How wide single spots of this run are, so that a wider one can be told for two run together. */
export interface WidthModel {
  /** ln width = base + slope x ln amount. */
  readonly base: number;
  readonly slope: number;
  /** Scatter of ln width. */
  readonly sd: number;
}

/** Scatter of ln width before anything is seen, and of dust, which has any width. */
const USUAL = 0.12;
const ANY = 0.4;
/** ln 2 x 8: full width at half maximum squared over variance. */
const FWHM2 = 8 * Math.LN2;

/**
 * Width against amount over all spots of a run: least squares with the too wide ones, which may be two, weighed down
 * (six rounds), shrunk to no slope where there are few spots.
 */
export function widthModel(
  spots: readonly { readonly width: number; readonly logAmount: number; readonly real: number }[],
): WidthModel {
  const used = spots.filter((s) => s.real > 0.5);
  if (used.length === 0) return { base: Math.log(0.05), slope: 0, sd: 2 * USUAL };
  const x = used.map((s) => s.logAmount);
  const y = used.map((s) => Math.log(s.width));
  const centre = x.reduce((s, v) => s + v, 0) / x.length;
  let base = [...y].sort((a, b) => a - b)[y.length >> 1];
  let slope = 0;
  let sd = USUAL;
  for (let round = 0; round < 6; round++) {
    let sw = 1e-9;
    let sx = 0;
    let sy = 0;
    let sxx = 5;
    let sxy = 0;
    let squares = 6 * USUAL * USUAL;
    let weight = 6;
    x.forEach((v, i) => {
      const off = y[i] - base - slope * (v - centre);
      const w = off > 1.2 * sd ? (1.2 * sd) / off / (1 + (off / sd - 1.2)) : off < -2 * sd ? (-2 * sd) / off : 1;
      sw += w;
      sx += w * (v - centre);
      sy += w * y[i];
      sxx += w * (v - centre) ** 2;
      sxy += w * (v - centre) * y[i];
      squares += w * Math.min(off * off, 9 * sd * sd);
      weight += w;
    });
    const d = sw * sxx - sx * sx;
    slope = (sw * sxy - sx * sy) / d;
    base = (sy - slope * sx) / sw;
    sd = Math.min(0.2, Math.max(0.08, Math.sqrt(squares / weight)));
  }
  return { base: base - slope * centre, slope, sd };
}

/** ln width to be expected of a single spot. */
export function singleLogWidth(logAmount: number, model: WidthModel): number {
  return model.base + model.slope * logAmount;
}

/** Likelihood ratio of a spot's width, single spot against dust. */
export function singleWidth(width: number, logAmount: number, model: WidthModel): number {
  return likelihood(Math.log(width), singleLogWidth(logAmount, model), model.sd);
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
