import type { Lattice } from "./lattice.ts";
import type { LaneSign, LaneSigns } from "./signs.ts";

/** Pitches that come into question, as shares of the width: 20 lanes on a wide plate to three on a narrow one. */
const PITCH = { from: 0.04, to: 0.42, step: 1.01 };
const PHASES = 16;
/** Hands place lanes to about this share of a pitch. */
const SCATTER = 0.16;
/** What a sign midway between lanes costs, as a share of what it earns on one. */
const STRAY = 0.75;
/** What a lane without any sign costs; a lane at the edge shows more than this. */
const BARE = 0.3;
/** Share of the lanes that a row of marks must mark to count, and fewest marks of such a row. */
const FULL = { share: 0.55, least: 3 };
/** Distance of the outermost lane from the edge, in pitches, below which people hardly ever go. */
const RIM = 0.45;
const AT_EDGE = 0.2;
/** What a sign beyond the lanes told costs, and margins that differ by a pitch. */
const BEYOND = 1.2;
const UNEVEN = 0.05;

/**
 * The evenly spaced lanes that explain best what the plate shows: spots on lanes earn their weight, spots between lanes
 * and lanes without a sign cost. Every pitch and phase is tried.
 * @param width of the plate in pixels
 * @param told how many lanes there are; null: none is assumed beyond the outermost that shows something
 * @returns null where too little is seen
 */
export function countLanes(signs: LaneSigns, width: number, told: number | null): Lattice | null {
  if (signs.spots.length + signs.rows.length < 2) return null;
  let best: Lattice | null = null;
  for (let share = PITCH.from; share < PITCH.to; share *= PITCH.step) {
    const pitch = share * width;
    for (let k = 0; k < PHASES; k++) {
      const trial = explain(signs, width, pitch, (k / PHASES) * pitch, told);
      if (trial && (!best || trial.score > best.score)) best = trial;
    }
  }
  return best;
}

function explain(
  { spots, rows }: LaneSigns,
  width: number,
  pitch: number,
  phase: number,
  told: number | null,
): Lattice | null {
  const sites = Math.floor((width - phase) / pitch) + 2;
  const shown = new Float64Array(sites);
  let score = lay(spots, pitch, phase, shown);
  let fullest = 0;
  for (const row of rows) {
    const own = new Float64Array(sites);
    const earned = lay(row, pitch, phase, own);
    const [from, to] = ends(own);
    let hits = 0;
    for (const v of own) if (v > 0.5 * row[0].weight) hits++;
    if (hits < FULL.least || hits < FULL.share * Math.max(to - from + 1, row.length)) continue;
    fullest = Math.max(fullest, earned);
    for (let site = 0; site < sites; site++) shown[site] = Math.max(shown[site], own[site]);
  }
  const [from, to] = told === null ? ends(shown) : likeliest(shown, told, pitch, phase, width);
  if (to - from < 1) return null;
  score += fullest;
  for (let site = 0; site < sites; site++) if (site < from || site > to) score -= BEYOND * shown[site];
  for (let site = from; site <= to; site++) score -= BARE * (1 - shown[site]);
  const first = phase + from * pitch;
  const last = phase + to * pitch;
  score -= 0.3 * (closeToEdge(first / pitch) + closeToEdge((width - last) / pitch));
  return { count: to - from + 1, first, pitch, score };
}

function closeToEdge(gap: number): number {
  return gap < RIM ? ((RIM - gap) / 0.12) ** 2 : 0;
}

/** Lays signs on a lattice: what they earn in all; `shown` gets the strongest at each site. */
function lay(signs: readonly LaneSign[], pitch: number, phase: number, shown: Float64Array): number {
  let earned = 0;
  for (const { x, weight } of signs) {
    const place = (x - phase) / pitch;
    const site = Math.round(place);
    const off = (place - site) / SCATTER;
    const on = Math.exp(-0.5 * off * off);
    earned += weight * (on - STRAY * (1 - on));
    if (site >= 0 && site < shown.length && weight * on > shown[site]) shown[site] = weight * on;
  }
  return earned;
}

/** First and last site that clearly shows something; the first lies after the last where none does. */
function ends(shown: Float64Array): [number, number] {
  let from = 0;
  while (from < shown.length && shown[from] < BARE) from++;
  let to = shown.length - 1;
  while (to > from && shown[to] < BARE) to--;
  return [from, to];
}

/** Of the runs of `told` neighbouring sites that lie on the plate, the one that shows most; [0, -1] where none does. */
function likeliest(
  shown: Float64Array,
  told: number,
  pitch: number,
  phase: number,
  width: number,
): readonly [number, number] {
  let best = { from: 0, score: Number.NEGATIVE_INFINITY };
  for (let from = 0; from + told <= shown.length; from++) {
    let score = 0;
    for (let site = from; site < from + told; site++) score += shown[site];
    const left = (phase + from * pitch) / pitch;
    const right = (width - phase - (from + told - 1) * pitch) / pitch;
    if (right < AT_EDGE) continue;
    score -= 0.3 * (closeToEdge(left) + closeToEdge(right)) + UNEVEN * Math.abs(left - right);
    if (score > best.score) best = { from, score };
  }
  return best.score === Number.NEGATIVE_INFINITY ? [0, -1] : [best.from, best.from + told - 1];
}
