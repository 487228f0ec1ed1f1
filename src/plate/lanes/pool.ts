/** Something that a lane shows across the plate. */
export interface LaneSign {
  /** Pixels from the left. */
  readonly x: number;
  /** 0..1: how likely it is a lane's, before asking which lanes there are. */
  readonly weight: number;
}

/** Further witnesses to the same place count this much: two photos or two looks at one mark are not independent. */
const FURTHER = 0.5;
const SUREST = 0.97;
/** Places less spoken for than this are none. */
const LEAST = 0.02;

/**
 * Joins signs that stand at one place: the tops of a kernel density of their log odds, each with its nearest signs.
 * @param sigma of the kernel, in pixels
 */
export function pool(signs: readonly LaneSign[], width: number, sigma: number): LaneSign[] {
  const density = new Float64Array(width);
  const doubts = signs.map(({ x, weight }) => ({ x, doubt: -Math.log(1 - Math.min(SUREST, weight)) }));
  for (const { x, doubt } of doubts)
    for (let c = Math.max(0, Math.floor(x - 3 * sigma)); c <= Math.min(width - 1, x + 3 * sigma); c++)
      density[c] += doubt * Math.exp(-0.5 * ((c + 0.5 - x) / sigma) ** 2);
  const places: { at: number; sum: number; moment: number; most: number }[] = [];
  for (let c = 1; c < width - 1; c++)
    if (density[c] > LEAST && density[c] > density[c - 1] && density[c] >= density[c + 1])
      places.push({ at: c + 0.5, sum: 0, moment: 0, most: 0 });
  if (places.length === 0) return [];
  for (const { x, doubt } of doubts) {
    const nearest = places.reduce((a, b) => (Math.abs(b.at - x) < Math.abs(a.at - x) ? b : a));
    nearest.sum += doubt;
    nearest.moment += doubt * x;
    nearest.most = Math.max(nearest.most, doubt);
  }
  return places
    .filter((p) => p.sum > 0)
    .map((p) => ({ x: p.moment / p.sum, weight: 1 - Math.exp(-(p.most + FURTHER * (p.sum - p.most))) }));
}
