import { emgCdf } from "../../math/emg.ts";
import type { Light } from "../../model/photo.ts";
import type { Chance } from "../chance.ts";
import type { EmgPeak, Stain, Substance } from "../recipe.ts";
import { drawResponse } from "./substances.ts";

/** Rf values at least `gap` apart between 0.1 and 0.85, falling. */
function drawRfs(chance: Chance, count: number, gap: number): number[] {
  const [low, high] = [0.1, 0.85];
  const slack = high - low - gap * (count - 1);
  const cuts = Array.from({ length: count }, () => chance.uniform(0, slack)).sort((a, b) => b - a);
  return cuts.map((cut, i) => low + cut + gap * (count - 1 - i));
}

/**
 * When each substance leaves the column: about 1/Rf column volumes (V_R = V_M / R, IUPAC Gold Book R05353),
 * compressed as a step gradient does, spread over the tubes.
 */
function drawPeaks(chance: Chance, rfs: readonly number[], tubes: number): (EmgPeak | null)[] {
  const compress = chance.uniform(0.35, 0.8);
  const way = rfs.map((rf) => (1 / rf) ** compress);
  const first = chance.uniform(0.1, 0.25) * tubes;
  const last = chance.uniform(0.65, 0.9) * tubes;
  const stays = rfs.map((rf, i) => i > 1 && rf < 0.22 && chance.happens(0.35));
  const span = Math.max(0.2, way[way.length - 1] - way[0]);
  // neighbours 1.8 to 5 sigma apart on average: from badly mixed to well parted
  const breadth = ((last - first) / Math.max(1.5, rfs.length - 1)) * chance.uniform(0.2, 0.5);
  const tailed = chance.logUniform(0.25, 1.6);
  return rfs.map((_, i) => {
    if (stays[i]) return null;
    const mu = first + ((last - first) * (way[i] - way[0])) / span;
    const sigma = Math.max(0.35, breadth * (0.6 + (0.7 * mu) / tubes) * Math.exp(chance.normal(0, 0.15)));
    return { mu, sigma, tau: sigma * tailed * Math.exp(chance.normal(0, 0.25)) };
  });
}

/** Share of a peak that has come out when tube t is full. */
function outBy({ mu, sigma, tau }: EmgPeak, t: number): number {
  return emgCdf(t, mu, sigma, tau);
}

/** Amounts per tube (index 0: tube 1), scaled so that the fullest tube of the main product holds 1. */
export function tubeContents(substances: readonly Substance[], tubes: number): number[][] {
  const raw = Array.from({ length: tubes }, (_, t) =>
    substances.map(({ peak, load }) => (peak ? load * (outBy(peak, t + 1) - outBy(peak, t)) : 0)),
  );
  const main = substances.reduce((best, s, i) => (s.peak && s.load > substances[best].load ? i : best), 0);
  const top = Math.max(...raw.map((tube) => tube[main]), 1e-9);
  return raw.map((tube) => tube.map((amount) => amount / top));
}

/** Substances of one run, fastest first, ids c1, c2, ... */
export function drawSubstances(
  chance: Chance,
  count: number,
  gap: number,
  tubes: number,
  needed: { light: Light; stain: Stain | null },
): Substance[] {
  const rfs = drawRfs(chance, count, gap);
  const peaks = drawPeaks(chance, rfs, tubes);
  const eluting = peaks.map((peak, i) => (peak ? i : -1)).filter((i) => i >= 0);
  const main = chance.pick(eluting);
  return rfs.map((rf, i) => ({
    id: `c${i + 1}`,
    rf,
    peak: peaks[i],
    load: i === main ? 1 : chance.happens(0.3) ? chance.logUniform(0.015, 0.12) : chance.logUniform(0.12, 1),
    response: drawResponse(chance, needed),
  }));
}
