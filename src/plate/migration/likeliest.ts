import { normalCdf } from "../../math/normal.ts";
import type { LinePlace } from "../../model/index.ts";

/** A place where a line may be that nothing shows, as a share of the plate's height, give or take `sd`. */
export interface Unseen {
  readonly y: number;
  readonly sd: number;
  /** How much speaks for it, on the scale of `worth` of what is seen. */
  readonly worth: number;
}

/** Where a line is taken to be. */
export interface Likeliest {
  /** Which of the places seen it is, -1 where it is one that nothing shows. */
  readonly index: number;
  readonly y: number;
  /** Probability that the line lies so near that spots are read right. */
  readonly probability: number;
  /** How far off it lies, root mean square. */
  readonly sd: number;
  /** Everywhere it may be. */
  readonly places: readonly LinePlace[];
}

/** A line farther off than this, as a share of the height, makes all spots wrong. */
const NEAR = 0.025;
/** How fast a line is worth less the farther off it is: by 0.4 at this share of the height, by all far off. */
const GOOD = 0.015;

/** What a place that nothing shows is worth beside one that shows: of two that nearly coincide, what shows is the more exact. */
const BLIND = 0.9;

/**
 * The place from which the line may be expected to lie least far off (conditional logit; D. McFadden in Frontiers in Econometrics,
 * 1974, 105).
 * @param seen places as shares of the plate's height, and how much speaks for each: logarithms of odds against each other
 * @param unseen where it may be otherwise
 */
export function likeliest(
  seen: readonly { readonly y: number; readonly worth: number }[],
  unseen: readonly Unseen[],
): Likeliest {
  const all: readonly Unseen[] = [...seen.map((one) => ({ ...one, sd: 0 })), ...unseen];
  const most = Math.max(...all.map((one) => one.worth));
  const odds = all.map((one) => Math.exp(one.worth - most));
  const total = odds.reduce((a, b) => a + b, 0);
  const mean = (value: (one: Unseen) => number) => all.reduce((sum, one, i) => sum + odds[i] * value(one), 0) / total;
  const goods = all.map(({ y }, k) => (k < seen.length ? 1 : BLIND) * mean((one) => goodness(y, one)));
  const best = goods.indexOf(Math.max(...goods));
  const { y } = all[best];
  return {
    index: best < seen.length ? best : -1,
    y,
    probability: mean((one) => within(y, one)),
    sd: Math.sqrt(mean((one) => (one.y - y) ** 2 + one.sd ** 2)),
    places: all.map((one, i) => ({ y: one.y, sd: one.sd, probability: odds[i] / total })),
  };
}

/** What it is worth to take the line to be at `y` if it is at one place: 1 where that is the same. */
function goodness(y: number, { y: centre, sd }: Unseen): number {
  const width = Math.hypot(GOOD, sd);
  return (GOOD / width) * Math.exp(-((y - centre) ** 2) / (2 * width ** 2));
}

/** Probability that a line of one place lies near to `y`. */
function within(y: number, { y: centre, sd }: Unseen): number {
  if (sd === 0) return Math.abs(y - centre) < NEAR ? 1 : 0;
  return normalCdf((y + NEAR - centre) / sd) - normalCdf((y - NEAR - centre) / sd);
}
