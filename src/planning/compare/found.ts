import type { Result, TubeLog } from "../../model/index.ts";

/** One component as the plates of the fractions show it. */
export interface FoundBand {
  readonly component: string;
  readonly rf: number;
  /** Tube numbers, ascending, and the relative amount in each. */
  readonly tubes: readonly number[];
  readonly amounts: readonly number[];
}

/** Middle and width of a band in mL, and its shape. */
export interface BandShape {
  /** Volume by which half of it is off: tails move it less than the mean. */
  readonly centreMl: number;
  readonly meanMl: number;
  readonly sdMl: number;
  readonly firstTube: number;
  readonly lastTube: number;
  readonly humps: number;
  /** Back over front half width at a tenth of the height; null where the band starts or ends with the tubes. */
  readonly tailing: number | null;
  /** Up and down of the amounts over twice the highest: 1 for a single hump. */
  readonly roughness: number;
  /** Share of the amount that came before a volume, by the tubes' middles. */
  readonly before: (ml: number) => number;
}

/** A tube belongs to a band from this part of the highest amount on. */
const FOOT = 0.1;
/** A second maximum counts as a hump where the valley before it falls below this part of the lower of the two. */
const VALLEY = 0.65;

/** The bands of a reading, components seen in reference lanes alone left out. Measured amounts stand before smoothed ones. */
export function foundBands(result: Result): readonly FoundBand[] {
  return result.components.flatMap((component) => {
    const profile = result.profiles.find((p) => p.component === component.id);
    const points = [...(profile?.points ?? [])].sort((a, b) => a.fraction - b.fraction);
    const seen = points.filter((point) => point.measured !== null);
    const used = seen.length >= 3 ? seen : points;
    const amounts = used.map((point) => Math.max(0, point.measured ?? point.amount));
    if (amounts.every((amount) => amount === 0)) return [];
    return [{ component: component.id, rf: component.rf, tubes: used.map((p) => p.fraction), amounts }];
  });
}

/** Humps of a profile: maxima above a fifth of the highest, parted by valleys deep enough to be real. */
function countHumps(amounts: readonly number[]): number {
  const top = Math.max(...amounts);
  const kept: number[] = [];
  amounts.forEach((amount, i) => {
    const peak = amount > (amounts[i - 1] ?? 0) && amount >= (amounts[i + 1] ?? 0) && amount > 0.2 * top;
    if (!peak) return;
    const last = kept.at(-1);
    if (last === undefined) kept.push(i);
    else if (Math.min(...amounts.slice(last, i + 1)) < VALLEY * Math.min(amounts[last], amount)) kept.push(i);
    else if (amount > amounts[last]) kept[kept.length - 1] = i;
  });
  return kept.length;
}

function crossing(x0: number, y0: number, x1: number, y1: number, level: number): number {
  return x0 + ((level - y0) / (y1 - y0)) * (x1 - x0);
}

function tailingOf(middles: readonly number[], amounts: readonly number[]): number | null {
  const top = amounts.indexOf(Math.max(...amounts));
  const level = FOOT * amounts[top];
  let front: number | null = null;
  let back: number | null = null;
  for (let i = top; i > 0 && front === null; i--)
    if (amounts[i - 1] < level) front = crossing(middles[i - 1], amounts[i - 1], middles[i], amounts[i], level);
  for (let i = top; i + 1 < amounts.length && back === null; i++)
    if (amounts[i + 1] < level) back = crossing(middles[i], amounts[i], middles[i + 1], amounts[i + 1], level);
  if (front === null || back === null) return null;
  return (back - middles[top]) / Math.max(1e-9, middles[top] - front);
}

/** Volume at which half of the amount has come, the sums taken as straight lines from middle to middle. */
function halfOff(middles: readonly number[], amounts: readonly number[], total: number): number {
  let off = amounts[0] / 2;
  for (let i = 0; i + 1 < amounts.length; i++) {
    const next = off + (amounts[i] + amounts[i + 1]) / 2;
    if (next >= total / 2 && off < total / 2) return crossing(middles[i], off, middles[i + 1], next, total / 2);
    off = next;
  }
  return off >= total / 2 ? middles[0] : middles[middles.length - 1];
}

/**
 * Shape of a band by volume. `place(tube)` is the position at which a tube was collected (itself, unless an exchange of
 * tubes is tried out); positions count in `log`. Null where the log does not know a tube.
 */
export function bandShape(band: FoundBand, log: TubeLog, place: (tube: number) => number = (t) => t): BandShape | null {
  const order = band.tubes
    .map((tube, i) => ({ tube, at: log.tubes[place(tube) - 1], amount: band.amounts[i] }))
    .sort((a, b) => (a.at?.number ?? 0) - (b.at?.number ?? 0));
  if (order.some((o) => o.at === undefined)) return null;
  const amounts = order.map((o) => o.amount);
  const middles = order.map((o) => (o.at.startMl + o.at.endMl) / 2);
  const total = amounts.reduce((a, b) => a + b, 0);
  if (total <= 0) return null;
  const meanMl = amounts.reduce((sum, a, i) => sum + a * middles[i], 0) / total;
  const spread = amounts.reduce((sum, a, i) => sum + a * (middles[i] - meanMl) ** 2, 0) / total;
  const width = order.reduce((sum, o, i) => sum + amounts[i] * (o.at.endMl - o.at.startMl) ** 2, 0) / total;
  const top = Math.max(...amounts);
  const inside = order.filter((_, i) => amounts[i] >= FOOT * top).map((o) => o.at.number);
  const steps = [0, ...amounts, 0];
  return {
    centreMl: halfOff(middles, amounts, total),
    meanMl,
    sdMl: Math.sqrt(Math.max(spread - width / 12, width / 48)),
    firstTube: inside[0],
    lastTube: inside[inside.length - 1],
    humps: countHumps(amounts),
    tailing: tailingOf(middles, amounts),
    roughness: steps.slice(1).reduce((sum, a, i) => sum + Math.abs(a - steps[i]), 0) / (2 * top),
    before: (ml) => amounts.reduce((sum, a, i) => sum + (middles[i] < ml ? a : 0), 0) / total,
  };
}
