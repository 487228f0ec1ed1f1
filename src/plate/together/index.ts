import type { LinePlace, LinePlaces } from "../../model/index.ts";
import { placesFor } from "./places.ts";
import { type Shown, trackDensity } from "./trackDensity.ts";

export { onTrack, runOn, type TrackedPlate } from "./onTrack.ts";

/** A spot as it lies on its plate. */
export interface SpotHere {
  /** Height as a share of the plate's from the top, with the bend of the origin at its lane taken off. */
  readonly fromOrigin: number;
  /** The same with the bend of the front taken off. */
  readonly fromFront: number;
  /** Tube that its lane shows; null: the lane shows none. */
  readonly tube: number | null;
  /** Name of its lane. */
  readonly label: string;
  /** Probability that there is a spot at all. */
  readonly confidence: number;
}

/** A plate of the run: its spots, where its lines may be, and where they were taken to be. */
export interface PlateShown {
  readonly places: LinePlaces;
  readonly origin: number;
  readonly front: number;
  /** True where a person said where the line is. */
  readonly originGiven: boolean;
  readonly frontGiven: boolean;
  readonly spots: readonly SpotHere[];
}

/** Heights of origin and front of a plate as shares of its own. */
export interface LinesTogether {
  readonly origin: number;
  readonly front: number;
  /** How likely they are nearly right, 0..1. */
  readonly sure: number;
  /** How likely the lines are that the plate was read with. */
  readonly asRead: number;
}

/** A line farther off than this, as a share of the height, makes all spots wrong. */
const NEAR = 0.02;
/** A plate that shows its own lines so surely is not asked what others say. */
const CLEAR = 0.99;
/** What a plate says of others counts with this power of how sure its lines are: two that are both unsure must not agree on an error. */
const TRUST = 4;
/** Spots that stand level run on or lie off together: how much of what one more of them says was said before. */
const SAID_BEFORE = 0.7;
/** Share of plates whose spots lie farther off those of the others than lanes of one plate do: it moves no line that shows. */
const STRETCHED = 0.5;
/** How near in height spots stand level, as a share of the height. */
const LEVEL = 0.015;
/** Spots less likely are not followed. */
const FOLLOWED = 0.3;
/** The solvent is not thought to have run a shorter way, as a share of the height. */
const LEAST_SPAN = 0.3;

/**
 * Where origin and front of each plate of a run lie, all plates taken together: neighbouring tubes hold the same substances, and a
 * substance has nearly one Rf. A plate whose own lines are clear stays as it is; one whose lines are not is laid so that its spots
 * run on from those of the others, as far as it shows nothing to the contrary. Our own method: the posterior of each plate's lines
 * given the others, one after the other from the clearest on, then once more each given all (iterated conditional modes; J. Besag,
 * J. R. Stat. Soc. B 1986, 48, 259).
 */
export function linesTogether(plates: readonly PlateShown[]): LinesTogether[] {
  const laid = plates.map(alone);
  const order = [...laid.keys()].sort((a, b) => laid[b].sure - laid[a].sure);
  const unclear = order.filter((i) => laid[i].sure < CLEAR);
  const layBeside = (i: number, others: readonly number[]) => {
    laid[i] = beside(plates[i], shownBy(plates, laid, others)) ?? laid[i];
  };
  // The clearest plate is what the others are laid beside, even if it is not clear itself.
  const known = order.filter((i) => !unclear.includes(i) || i === order[0]);
  for (const i of unclear.filter((i) => i !== order[0])) {
    layBeside(i, known);
    known.push(i);
  }
  for (let again = 0; again < 2; again++)
    for (const i of unclear)
      layBeside(
        i,
        order.filter((k) => k !== i),
      );
  return laid;
}

/** As the plate shows by itself. */
function alone({ places, origin, front, originGiven, frontGiven }: PlateShown): LinesTogether {
  const sure = (originGiven ? 1 : within(places.origin, origin)) * (frontGiven ? 1 : within(places.front, front));
  return { origin, front, sure, asRead: sure };
}

function within(places: readonly LinePlace[], y: number): number {
  return placesFor(places).reduce((sum, one) => (Math.abs(one.y - y) < NEAR ? sum + one.probability : sum), 0);
}

function shownBy(plates: readonly PlateShown[], laid: readonly LinesTogether[], which: readonly number[]): Shown[] {
  return which.flatMap((p) =>
    plates[p].spots.map((s) => ({ ...s, rf: rfOf(s, laid[p]), weight: s.confidence * laid[p].sure ** TRUST })),
  );
}

function rfOf({ fromOrigin, fromFront }: SpotHere, { origin, front }: Pick<LinesTogether, "origin" | "front">): number {
  const up = origin - fromOrigin;
  return up / (up + fromFront - front);
}

/** The lines that are likeliest as the plate shows them and as its spots run on; null where there is nothing to go by. */
function beside(plate: PlateShown, others: readonly Shown[]): LinesTogether | null {
  const spots = plate.spots.filter((s) => s.confidence >= FOLLOWED);
  if (spots.length === 0 || others.length === 0) return null;
  const densities = spots.map((s) => trackDensity(s, others, STRETCHED));
  const weights = ownWeights(spots);
  const tries = linesToTry(plate).map(({ origin, front, worth }) => {
    const perHeight = Math.log(origin - front);
    const runsOn = spots.reduce(
      (sum, s, k) => sum + weights[k] * (densities[k](rfOf(s, { origin, front })) - perHeight),
      0,
    );
    return { origin, front, worth: worth + runsOn };
  });
  const best = tries.reduce((a, b) => (b.worth > a.worth ? b : a));
  const odds = tries.map((t) => Math.exp(t.worth - best.worth));
  const near = (y: Pick<LinesTogether, "origin" | "front">) =>
    tries.flatMap((t, k) =>
      Math.abs(t.origin - y.origin) < NEAR && Math.abs(t.front - y.front) < NEAR ? [{ ...t, odds: odds[k] }] : [],
    );
  const taken = near(best);
  const total = odds.reduce((a, b) => a + b, 0);
  const sum = (some: readonly { readonly odds: number }[]) => some.reduce((all, t) => all + t.odds, 0);
  const mean = (line: "origin" | "front") => taken.reduce((all, t) => all + t.odds * t[line], 0) / sum(taken);
  return {
    origin: mean("origin"),
    front: mean("front"),
    sure: sum(taken) / total,
    asRead: sum(near(plate)) / total,
  };
}

/**
 * How much each spot counts: by how likely it is one, and the less the more others stand level with it. A row of spots that falls onto
 * the track of another substance does so as one.
 */
function ownWeights(spots: readonly SpotHere[]): number[] {
  return spots.map((s) => {
    const level = spots.reduce(
      (sum, o) => sum + o.confidence * Math.exp(-(((o.fromOrigin - s.fromOrigin) / LEVEL) ** 2) / 2),
      0,
    );
    return s.confidence / (1 + SAID_BEFORE * Math.max(0, level - 1));
  });
}

/** Each origin with each front that may be: how much speaks for both as the plate shows them, as a logarithm. */
function linesToTry({ places, origin, front, originGiven, frontGiven }: PlateShown) {
  const given = (y: number) => [{ y, sd: 0, probability: 1 }];
  const origins = originGiven ? given(origin) : placesFor(places.origin);
  const fronts = frontGiven ? given(front) : placesFor(places.front);
  return origins.flatMap((o) =>
    fronts
      .filter((f) => o.y - f.y >= LEAST_SPAN || (originGiven && frontGiven))
      .map((f) => ({ origin: o.y, front: f.y, worth: Math.log(o.probability) + Math.log(f.probability) })),
  );
}
