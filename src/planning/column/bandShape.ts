import { normalCdf } from "../../math/normal.ts";
import type { Elution } from "./elute.ts";

/** What of a band is off after `volumeMl`: 0..1. */
export type BandCdf = (volumeMl: number) => number;

/**
 * Share of a band that has left the column: the gamma law that stages in equilibrium give under steady flow (Martin and
 * Synge 1941, from memory), a little skewed, with the band's mean and standard deviation in mL; by the cube root of
 * Wilson and Hilferty (1931, from memory), within 1e-3 from 20 theoretical plates on.
 */
export function bandCdf(retentionMl: number, sdMl: number): BandCdf {
  const shape = (retentionMl / sdMl) ** 2;
  return (volumeMl) => {
    if (volumeMl <= 0) return 0;
    const root = Math.cbrt(volumeMl / retentionMl);
    return normalCdf((root - 1 + 1 / (9 * shape)) * 3 * Math.sqrt(shape));
  };
}

/** What of a band is off after some mL, whatever eluent carried each part of it out. */
export function elutionCdf({ retentionMl, sdMl, early }: Elution): BandCdf {
  const late = bandCdf(retentionMl, sdMl);
  const before = early.map((law) => ({ off: bandCdf(law.retentionMl, law.sdMl), untilMl: law.untilMl }));
  return (volumeMl) => {
    const came = before.find((law) => volumeMl <= law.untilMl);
    const earlier = before.filter((law) => volumeMl > law.untilMl).map((law) => law.off(law.untilMl));
    return Math.max(...earlier, (came?.off ?? late)(volumeMl));
  };
}

/** Volume in mL at `z` normal standard deviations of a band, whatever eluent carried that part of it out. */
export function elutionQuantile({ retentionMl, sdMl, early }: Elution, z: number): number {
  let from = 0;
  for (const law of early) {
    const volume = Math.max(from, bandQuantile(law.retentionMl, law.sdMl, z));
    if (volume <= law.untilMl) return volume;
    from = law.untilMl;
  }
  return Math.max(from, bandQuantile(retentionMl, sdMl, z));
}

/** Volume in mL at `z` normal standard deviations: -1.96 and 1.96 hold the middle 95 % of the band between them. */
export function bandQuantile(retentionMl: number, sdMl: number, z: number): number {
  const shape = (retentionMl / sdMl) ** 2;
  return retentionMl * Math.max(0, 1 - 1 / (9 * shape) + z / (3 * Math.sqrt(shape))) ** 3;
}
