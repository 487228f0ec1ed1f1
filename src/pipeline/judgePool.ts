import { readAs, type TubesRead } from "../decisions/index.ts";
import type { Interval, JudgedPool, TubeState } from "../model/index.ts";

/** What is known besides the plates. */
export interface PoolGrounds {
  /** Volume of a tube in mL, or null where nobody said. */
  readonly volumeOf: (tube: number) => number | null;
}

/** How unequal the answers of two substances of equal amount are: sd of the log response of each (docs/methods/pools.md). */
const RESPONSE_LOG_SD = 0.35;
/** Standard normal quantile of 0.95: intervals hold 90 %. */
const Z95 = 1.6449;

/** An amount known up to a factor: median, and sd of its logarithm. */
interface Amount {
  readonly median: number;
  readonly logSd: number;
}

/**
 * What a pool of these tubes would be: kind, components, purity, recovery, volume. Closed form over the profiles of a
 * result, so quick enough to follow a hand: amounts of a component over the tubes are log-normal with the mean and
 * variance of their sum (Fenton 1960, from memory), and a share is logit-normal. Just the tubes of a suggested pool have
 * the suggestion's purity. See docs/methods/decisions.md.
 * @param tubes numbers; those that the reading does not know count for nothing but their volume
 */
export function judgePool(read: TubesRead, tubes: readonly number[], { volumeOf }: PoolGrounds): JudgedPool {
  const { kind, components } = readAs(read, tubes);
  const inside = new Set(tubes);
  const volumes = tubes.map(volumeOf);
  const sums = read.profiles.map((p) => ({
    component: p.component,
    here: sumOf(p.points.filter((q) => inside.has(q.fraction))),
    elsewhere: sumOf(p.points.filter((q) => !inside.has(q.fraction))),
  }));
  const main = sums.find((s) => s.component === (kind === "clean" ? components[0] : largest(sums)));
  const others = sumOfAll(sums.filter((s) => s !== main).map((s) => s.here));
  const suggested = read.pools.find(
    (p) => p.fractions.length === inside.size && p.fractions.every((n) => inside.has(n)),
  );
  const shows = kind !== "empty" && main !== undefined;
  return {
    kind,
    components,
    purity: suggested?.purity ?? (shows ? share(main.here, others, RESPONSE_LOG_SD) : NOTHING),
    recovery: shows ? share(main.here, main.elsewhere, 0) : NOTHING,
    confidence: mean(tubes.flatMap((n) => chanceOf(read, n, kind, components[0]) ?? [])),
    volumeMl: volumes.some((v) => v === null) ? null : volumes.reduce<number>((sum, v) => sum + (v ?? 0), 0),
  };
}

const NOTHING: Interval = { low: 0, mid: 0, high: 0 };

function sumOf(points: readonly { readonly amount: number; readonly sd: number }[]): Amount {
  const mean = points.reduce((s, p) => s + p.amount, 0);
  const variance = points.reduce((s, p) => s + p.sd * p.sd, 0);
  return logNormal(mean, variance);
}

/** Sum of amounts of different substances: each answers in its own way. */
function sumOfAll(amounts: readonly Amount[]): Amount {
  let mean = 0;
  let variance = 0;
  for (const a of amounts) {
    mean += a.median;
    variance += a.median ** 2 * (Math.exp(a.logSd ** 2 + RESPONSE_LOG_SD ** 2) - 1);
  }
  return logNormal(mean, variance);
}

function logNormal(mean: number, variance: number): Amount {
  return { median: mean, logSd: mean > 0 ? Math.sqrt(Math.log1p(variance / (mean * mean))) : 0 };
}

/** Share of `own` in both, 90 % interval. `extra`: sd of the log of how `own` answers, on top. */
function share(own: Amount, other: Amount, extra: number): Interval {
  if (!(own.median > 0)) return NOTHING;
  if (!(other.median > 0)) return { low: 1, mid: 1, high: 1 };
  const z = Math.log(own.median / other.median);
  const sd = Math.sqrt(own.logSd ** 2 + other.logSd ** 2 + extra ** 2);
  const at = (k: number) => 1 / (1 + Math.exp(-(z + k * Z95 * sd)));
  return { low: at(-1), mid: at(0), high: at(1) };
}

function largest(sums: readonly { readonly component: string; readonly here: Amount }[]): string | undefined {
  return [...sums].sort((a, b) => b.here.median - a.here.median)[0]?.component;
}

/** Chance that a tube is of the pool's kind; null where the reading does not know the tube. */
function chanceOf(read: TubesRead, tube: number, kind: TubeState, main: string | undefined): number | null {
  const fraction = read.fractions.find((f) => f.number === tube);
  if (fraction === undefined) return null;
  const suggested = read.pools.find((p) => p.id === fraction.pool);
  const agrees = suggested?.kind === kind && (kind !== "clean" || suggested.components[0] === main);
  return agrees ? fraction.confidence : Math.min(fraction.odds[kind], 1 - fraction.confidence);
}

function mean(values: readonly number[]): number {
  return values.length === 0 ? 0 : values.reduce((s, v) => s + v, 0) / values.length;
}
