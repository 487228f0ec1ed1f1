import type { ScoutSpot, ScoutTrial } from "../../model/index.ts";
import { plateResolution } from "../retention/index.ts";

/** A substance as one eluent shows it. */
export interface Substance {
  /** Label of the reference lane whose main spot it is, or null. */
  readonly name: string | null;
  readonly rf: number;
  readonly rfSd: number;
  readonly widthRf: number;
  readonly tailing: number;
  /** Share of all amounts in the lanes of mixtures, 0..1. */
  readonly share: number;
}

/** Rf by which two lanes of one eluent may disagree and still show one substance: twice a ruler's +-0.02. */
const SAME_RF = 0.04;

const MIXTURE = /crude|mix|co-?spot|^co$|\+|&|reaction|^\d+$/i;

/** A lane that holds a mixture (crude, co-spot, a fraction), as against a lane that holds a known substance. */
export function isMixtureLane(label: string): boolean {
  return MIXTURE.test(label.trim());
}

/** Below this resolution two spots of one lane are one that was read in pieces. Common practice, no source. */
const IN_PIECES = 0.4;

/** Spots of a lane, fastest first, with those that hardly part from each other joined by amount. */
function joinPieces(spots: readonly ScoutSpot[]): ScoutSpot[] {
  const joined: ScoutSpot[] = [];
  for (const spot of [...spots].sort((a, b) => b.rf - a.rf)) {
    const last = joined.at(-1);
    if (!last || plateResolution(last.rf, spot.rf, last.widthRf, spot.widthRf) >= IN_PIECES) {
      joined.push(spot);
      continue;
    }
    const amount = last.amount + spot.amount;
    const part = amount > 0 ? last.amount / amount : 0.5;
    const main = part >= 0.5 ? last : spot;
    joined[joined.length - 1] = { ...main, rf: part * last.rf + (1 - part) * spot.rf, amount };
  }
  return joined;
}

interface Member {
  readonly lane: string;
  readonly label: string;
  readonly spot: ScoutSpot;
  readonly main: boolean;
}

function members(trial: ScoutTrial): Member[] {
  return trial.lanes.flatMap((lane) => {
    const spots = joinPieces(lane.spots);
    const top = Math.max(0, ...spots.map((spot) => spot.amount));
    return spots.map((spot) => ({
      lane: `${lane.plate}/${lane.lane}`,
      label: lane.label,
      spot,
      main: spot.amount === top,
    }));
  });
}

function centre(group: readonly Member[]): number {
  return group.reduce((sum, m) => sum + m.spot.rf, 0) / group.length;
}

/** Joins the nearest groups first; two spots of one lane are never one substance. */
function group(all: readonly Member[]): Member[][] {
  const groups = all.map((m) => [m]).sort((a, b) => b[0].spot.rf - a[0].spot.rf);
  for (;;) {
    let best = -1;
    let bestGap = SAME_RF;
    for (let i = 0; i + 1 < groups.length; i++) {
      const gap = Math.abs(centre(groups[i]) - centre(groups[i + 1]));
      const lanes = new Set(groups[i].map((m) => m.lane));
      if (gap < bestGap && !groups[i + 1].some((m) => lanes.has(m.lane))) {
        best = i;
        bestGap = gap;
      }
    }
    if (best < 0) return groups;
    groups.splice(best, 2, [...groups[best], ...groups[best + 1]]);
    groups.sort((a, b) => centre(b) - centre(a));
  }
}

const mean = (values: readonly number[]) => values.reduce((a, b) => a + b, 0) / values.length;

function summarise(name: string | null, part: readonly Member[], amount: number): Substance {
  const rf = mean(part.map((m) => m.spot.rf));
  const spread = part.length > 1 ? Math.sqrt(mean(part.map((m) => (m.spot.rf - rf) ** 2))) : 0;
  const sd = Math.sqrt(mean(part.map((m) => m.spot.rfSd ** 2)));
  return {
    name,
    rf,
    rfSd: Math.max(sd, spread),
    widthRf: mean(part.map((m) => m.spot.widthRf)),
    tailing: mean(part.map((m) => m.spot.tailing)),
    share: amount,
  };
}

/**
 * The substances of one eluent, fastest first: spots of all its lanes joined by Rf, named after the reference lanes.
 * Two reference substances that run alike stay two, each at the Rf of its own lane. What no mixture holds and no lane
 * is named after (an impurity of a reference) is left out.
 */
export function substancesOf(trial: ScoutTrial): readonly Substance[] {
  const all = members(trial);
  const mixtures = all.filter((m) => isMixtureLane(m.label));
  const basis = mixtures.length > 0 ? mixtures : all;
  const total = basis.reduce((sum, m) => sum + m.spot.amount, 0);
  return group(all)
    .flatMap((part) => {
      const amount = total > 0 ? part.reduce((sum, m) => sum + (basis.includes(m) ? m.spot.amount : 0), 0) / total : 0;
      const names = [...new Set(part.filter((m) => m.main && !isMixtureLane(m.label)).map((m) => m.label))];
      if (names.length < 2) return [summarise(names[0] ?? null, part, amount)];
      return names.map((name) =>
        summarise(
          name,
          part.filter((m) => m.label === name),
          amount / names.length,
        ),
      );
    })
    .filter((substance) => mixtures.length === 0 || substance.share > 0 || substance.name !== null)
    .sort((a, b) => b.rf - a.rf);
}
