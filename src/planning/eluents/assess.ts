import type { Eluent, PairFigures, TrialAssessment, TrialSpot } from "../../model/index.ts";
import { LIMIT_PLATES } from "../column/plates.ts";
import { columnResolution, columnVolumes, deltaRf, plateResolution } from "../retention/index.ts";

/** A workable separation: University of York, Chemistry teaching labs, "Determining suitable separation conditions". */
export const WORKABLE = { deltaRf: 0.15, slowest: 0.15, fastest: 0.6 } as const;
/** Where the wanted spot should run: Still, Kahn, Mitra, J. Org. Chem. 1978, 43, 2923 (from memory). */
export const IDEAL_RF = 0.35;

/** Resolution beyond which a better one is no use. */
const ENOUGH = 3;

/** What an eluent outside York's ranges keeps of its score: a better resolution may make up for it. */
const NOT_WORKABLE = 0.75;

/** Rf low enough to be called "stays put"; keeps 1/Rf finite. */
const LEAST_RF = 0.01;

/** Figures of two neighbours; `columnVolumes` counts an Rf below 0.01 as 0.01. */
export function pairFigures(one: TrialSpot, other: TrialSpot): PairFigures {
  const [fast, slow] = one.rf >= other.rf ? [one, other] : [other, one];
  const rfFast = Math.max(LEAST_RF, fast.rf);
  const rfSlow = Math.max(LEAST_RF, slow.rf);
  return {
    fast: fast.component,
    slow: slow.component,
    deltaRf: deltaRf(fast.rf, slow.rf),
    resolution: plateResolution(fast.rf, slow.rf, fast.widthRf, slow.widthRf),
    columnVolumes: columnVolumes(rfSlow) - columnVolumes(rfFast),
    columnResolution: columnResolution(rfFast, rfSlow, LIMIT_PLATES),
  };
}

/** 1 where the wanted spot runs at a third of the way, 0.5 at York's ends, little beyond. */
export function rfDesirability(rf: number): number {
  const knots: readonly (readonly [number, number])[] = [
    [0, 0.02],
    [0.05, 0.1],
    [0.15, 0.5],
    [0.25, 1],
    [0.45, 1],
    [0.6, 0.5],
    [0.85, 0.1],
    [1, 0.02],
  ];
  for (let i = 1; i < knots.length; i++) {
    const [x0, y0] = knots[i - 1];
    const [x1, y1] = knots[i];
    if (rf <= x1) return y0 + ((rf - x0) / (x1 - x0)) * (y1 - y0);
  }
  return 0.02;
}

/** Score of a wanted Rf and the resolution to its nearest neighbour: the smaller of what helps, times where it runs. */
export function scoreOf(wantedRf: number, resolution: number | null, tailing: number): number {
  const apart = Math.min(ENOUGH, resolution ?? ENOUGH);
  return apart * rfDesirability(wantedRf) * Math.min(1, 1.5 / Math.max(1, tailing));
}

/** Nearest neighbour pairs of spots sorted fastest first. */
export function neighbours(spots: readonly TrialSpot[]): readonly PairFigures[] {
  return spots.slice(1).map((slow, i) => pairFigures(spots[i], slow));
}

/** The pair with the lowest expected resolution on the column, or null. */
export function hardestPair(pairs: readonly PairFigures[]): PairFigures | null {
  return pairs.reduce<PairFigures | null>(
    (worst, pair) => (worst === null || pair.columnResolution < worst.columnResolution ? pair : worst),
    null,
  );
}

const two = (value: number) => value.toFixed(2);

function reasonFor(
  wanted: TrialSpot | null,
  pair: PairFigures | null,
  hidden: readonly string[],
  nameOf: (id: string) => string,
): string {
  if (wanted === null) return "The wanted component shows nowhere in this eluent.";
  const parts: string[] = [];
  if (wanted.rf > WORKABLE.fastest) parts.push(`too strong: ${nameOf(wanted.component)} runs at Rf ${two(wanted.rf)}`);
  else if (wanted.rf < WORKABLE.slowest)
    parts.push(`too weak: ${nameOf(wanted.component)} stays at Rf ${two(wanted.rf)}`);
  else parts.push(`${nameOf(wanted.component)} runs at Rf ${two(wanted.rf)}`);
  if (pair) {
    const other = pair.fast === wanted.component ? pair.slow : pair.fast;
    const side = pair.fast === wanted.component ? "below" : "above";
    parts.push(
      `nearest neighbour ${nameOf(other)} is ${two(pair.deltaRf)} ${side}${pair.deltaRf < WORKABLE.deltaRf ? " (close)" : ""}, ${pair.columnVolumes.toFixed(1)} column volumes apart`,
    );
  } else parts.push("nothing else shows near it");
  if (wanted.tailing > 1.5) parts.push(`it tails (${wanted.tailing.toFixed(1)})`);
  if (hidden.length > 0)
    parts.push(`${hidden.map(nameOf).join(", ")} not seen apart here, probably under another spot`);
  const text = parts.join("; ");
  return `${text[0].toUpperCase()}${text.slice(1)}.`;
}

/**
 * Judges one eluent for the wanted component. `hidden`: components seen in other eluents whose place here falls on
 * another spot; where that is the wanted one, nothing is resolved.
 */
export function assessTrial(
  eluent: Eluent,
  plates: readonly string[],
  spots: readonly TrialSpot[],
  hidden: readonly { readonly component: string; readonly under: string | null }[],
  wanted: string | null,
  nameOf: (id: string) => string,
): Omit<TrialAssessment, "rank"> {
  const pairs = neighbours(spots);
  const target = spots.find((spot) => spot.component === wanted) ?? null;
  const around = pairs.filter((pair) => pair.fast === wanted || pair.slow === wanted);
  const covered = hidden.filter((h) => h.under !== null && h.under === wanted);
  const wantedPair: PairFigures | null =
    target !== null && covered.length > 0
      ? {
          fast: target.component,
          slow: covered[0].component,
          deltaRf: 0,
          resolution: 0,
          columnVolumes: 0,
          columnResolution: 0,
        }
      : hardestPair(around);
  const workable =
    target !== null &&
    target.rf >= WORKABLE.slowest &&
    target.rf <= WORKABLE.fastest &&
    (wantedPair === null || wantedPair.deltaRf >= WORKABLE.deltaRf);
  return {
    eluent,
    plates,
    spots,
    closest: covered.length > 0 ? wantedPair : hardestPair(pairs),
    wantedPair,
    workable,
    score:
      target === null
        ? 0
        : scoreOf(target.rf, wantedPair?.columnResolution ?? null, target.tailing) * (workable ? 1 : NOT_WORKABLE),
    reason: reasonFor(
      target,
      wantedPair,
      hidden.filter((h) => h.under !== null).map((h) => h.component),
      nameOf,
    ),
  };
}
