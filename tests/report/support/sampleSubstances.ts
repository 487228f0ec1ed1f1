/** Invented substances; see `sampleResult`. */
export const SUBSTANCES = [
  { id: "A", rf: 0.71, centre: 0.17, width: 0.06, load: 0.5 },
  { id: "B", rf: 0.56, centre: 0.33, width: 0.055, load: 0.8 },
  { id: "C", rf: 0.44, centre: 0.55, width: 0.085, load: 2.4 },
  { id: "D", rf: 0.12, centre: 0.86, width: 0.06, load: 0.25 },
] as const;

export type Substance = (typeof SUBSTANCES)[number];

export const LIMIT = 0.02;

/** Amount of a substance in a tube, a tailed hump over the run. */
export function amountAt(substance: Substance, tube: number, tubes: number): number {
  const t = tube / tubes - substance.centre;
  const w = t < 0 ? substance.width * 0.75 : substance.width * 1.3;
  return substance.load * Math.exp(-0.5 * (t / w) ** 2);
}
