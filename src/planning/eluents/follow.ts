import { logRetention, retardation } from "../retention/index.ts";
import type { Substance } from "./substances.ts";

/** A substance followed through the eluents; `seen[i]` is what trial i shows of it, null where it hides. */
export interface Followed {
  readonly name: string | null;
  readonly seen: readonly (Substance | null)[];
  /** Rf where the trial should show it, going by the others: where it hides. */
  readonly hiddenRf: readonly (number | null)[];
}

interface Track {
  name: string | null;
  /** ln k on the scale of the first trial taken. */
  level: number;
  share: number;
  readonly seen: Map<number, Substance>;
}

/** Scatter allowed in ln k and in ln of the share, and the price of leaving one unmatched. */
const LEVEL_SD = 0.5;
const SHARE_SD = 1;
const ALONE = 3;

const logShare = (share: number) => Math.log(Math.max(share, 0.005));

interface Alignment {
  readonly cost: number;
  readonly pairs: readonly (readonly [track: number, substance: number])[];
}

/** Best order-keeping match of tracks and substances at one shift of ln k (dynamic programming). */
function align(tracks: readonly Track[], found: readonly Substance[], shift: number): Alignment {
  const n = tracks.length;
  const m = found.length;
  const cost = Array.from({ length: n + 1 }, () => new Float64Array(m + 1));
  const price = (i: number, j: number) => {
    const a = tracks[i];
    const b = found[j];
    if (a.name !== null && b.name !== null && a.name !== b.name) return 4 * ALONE;
    const level = (logRetention(b.rf) - a.level - shift) / LEVEL_SD;
    const share = (logShare(b.share) - logShare(a.share)) / SHARE_SD;
    return level * level + share * share - (a.name !== null && a.name === b.name ? 2 * ALONE : 0);
  };
  for (let i = 0; i <= n; i++)
    for (let j = 0; j <= m; j++) {
      if (i === 0 && j === 0) continue;
      let best = Number.POSITIVE_INFINITY;
      if (i > 0) best = cost[i - 1][j] + ALONE;
      if (j > 0) best = Math.min(best, cost[i][j - 1] + ALONE);
      if (i > 0 && j > 0) best = Math.min(best, cost[i - 1][j - 1] + price(i - 1, j - 1));
      cost[i][j] = best;
    }
  const pairs: [number, number][] = [];
  for (let i = n, j = m; i > 0 && j > 0; ) {
    if (Math.abs(cost[i][j] - cost[i - 1][j - 1] - price(i - 1, j - 1)) < 1e-9) pairs.push([--i, --j]);
    else if (Math.abs(cost[i][j] - cost[i - 1][j] - ALONE) < 1e-9) i--;
    else j--;
  }
  return { cost: cost[n][m], pairs: pairs.reverse() };
}

/** Tries the shift of every possible pair and keeps the cheapest alignment. */
function bestAlignment(tracks: readonly Track[], found: readonly Substance[]): Alignment & { shift: number } {
  let best: (Alignment & { shift: number }) | null = null;
  for (const track of tracks)
    for (const substance of found) {
      const shift = logRetention(substance.rf) - track.level;
      const candidate = align(tracks, found, shift);
      if (best === null || candidate.cost < best.cost - 1e-9) best = { ...candidate, shift };
    }
  return best ?? { cost: 0, pairs: [], shift: 0 };
}

/**
 * Which spot in one eluent is which in another: by name where a reference lane tells, else in order of Rf, allowing all
 * ln k to move together and asking for like amounts. Order of the result: fastest first.
 */
export function followSubstances(trials: readonly (readonly Substance[])[]): readonly Followed[] {
  const spread = (list: readonly Substance[]) => list.filter((s) => s.rf > 0.05 && s.rf < 0.9).length;
  const order = trials.map((_, i) => i).sort((a, b) => spread(trials[b]) - spread(trials[a]) || a - b);
  const tracks: Track[] = [];
  const shifts = new Map<number, number>();
  for (const index of order) {
    const found = trials[index];
    const byName = new Map<number, number>();
    found.forEach((substance, j) => {
      const i = substance.name === null ? -1 : tracks.findIndex((track) => track.name === substance.name);
      if (i >= 0) byName.set(j, i);
    });
    const openTracks = tracks.filter((_, i) => ![...byName.values()].includes(i));
    const openFound = found.filter((_, j) => !byName.has(j));
    const all = bestAlignment(tracks, found);
    const rest = align(openTracks, openFound, all.shift);
    shifts.set(index, all.shift);
    for (const [j, i] of byName) tracks[i].seen.set(index, found[j]);
    const matched = new Set<Substance>();
    for (const [i, j] of rest.pairs) {
      openTracks[i].seen.set(index, openFound[j]);
      openTracks[i].name ??= openFound[j].name;
      matched.add(openFound[j]);
    }
    for (const substance of openFound)
      if (!matched.has(substance))
        tracks.push({
          name: substance.name,
          level: logRetention(substance.rf) - all.shift,
          share: substance.share,
          seen: new Map([[index, substance]]),
        });
  }
  tracks.sort((a, b) => a.level - b.level);
  return tracks.map((track) => ({
    name: track.name,
    seen: trials.map((_, i) => track.seen.get(i) ?? null),
    hiddenRf: trials.map((_, i) =>
      track.seen.has(i) ? null : retardation(Math.exp(track.level + (shifts.get(i) ?? 0))),
    ),
  }));
}
