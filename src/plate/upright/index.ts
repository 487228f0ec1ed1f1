import type { Quad } from "../../model/index.ts";
import type { Picture } from "../../raster/picture.ts";
import { smallPatch } from "../../raster/smallPatch.ts";
import { evidenceOf, untoldOf } from "./evidence.ts";
import { figureMarks, figuresUpright } from "./figures.ts";
import { namesRead } from "./names.ts";
import { halfTurnInPlace, quarterTurn, readSigns, type Signs } from "./signs.ts";
import { laneEvidenceOf, type ToldLanes } from "./told.ts";
import { TURNS, type Turn } from "./turn.ts";
import { LANE_WEIGHTS, WEIGHTS } from "./weights.ts";

export { orderAfter } from "./order.ts";
export type { ToldLanes } from "./told.ts";
export { TURNS, type Turn } from "./turn.ts";

/** Logarithm of the probability that a plate needs 0, 1, 2 or 3 quarter turns; all four alike where nothing tells. */
export type Standing = readonly [number, number, number, number];

export interface UprightTurn {
  readonly turn: Turn;
  /** False where another way up is nearly as likely, or likely but not clear enough to turn the plate. */
  readonly sure: boolean;
}

/** Pixels of the longer side that a plate is looked at in: what a figure written in pencil needs. */
const LONG_SIDE = 480;
const INSET = 0.008;

/** How often a plate is photographed each way up, before looking: hardly anybody puts it upside down. Our own figures. */
const BEFOREHAND = [1, 1, 0.5, 1] as const;
/** How often the plates of a whole run lie so. Our own figures. */
const OF_RUNS = [0.7, 0.12, 0.06, 0.12] as const;
/** Probability of lying on its side, or upside down, above which a plate is turned. */
const TURNED = 0.9;
/** The same where of two plates one must lie on its side. */
const LYING = 0.5;
/** Below this two shapes that seem to stand a quarter turn apart are rather two plates, or one of them is cut off. */
const MISLED = 0.1;
/** Of the two sides, the one taken should have this share. */
const CLEARER = 0.9;
/** An upright plate less sure than this is told. */
const DOUBT = 0.5;
/**
 * A photo goes its own way against others of the same plate, and a plate against others of its run, where it is this much surer: a plate
 * is mostly left lying while the lamp is changed, and a run taken from one side.
 */
const OWN_WAY = Math.log(30);
/** The same for a plate against those that lie beside it in one photo. */
const BESIDE = Math.log(1000);

/**
 * How a plate may stand in a photo: what speaks for an origin at each of its four sides, how figures on it are turned and, where its
 * lanes are told, how well they fit (conditional logit, D. McFadden in Frontiers in Econometrics, 1974, 105).
 * @param quad the plate's corners in pixels of `picture`, clockwise
 * @param toldAt its lanes, if it stands so: beside others it is another plate of the list when all lie the other way round; null: nobody said
 */
export function standingOf(
  picture: Picture,
  quad: Quad,
  toldAt: (turn: Turn) => ToldLanes | null = () => null,
): Standing {
  const toldLanes = TURNS.map(toldAt);
  const isTold = toldLanes.every((lanes) => lanes !== null);
  const patch = smallPatch(picture, quad, LONG_SIDE, INSET);
  if (!patch) return normalised([0, 0, 0, 0]);
  const { signs: seen, broad } = readSigns(patch);
  const marks = [figureMarks(seen, false), figureMarks(broad, true)];
  const figures = marks.map(figuresUpright);
  const score = (signs: Signs, turn: Turn) => {
    const read = { ...evidenceOf(signs), figures: figures[0][turn] + figures[1][turn] };
    const told = toldLanes[turn];
    if (!told || !isTold) return weigh(WEIGHTS, { ...read, ...untoldOf(signs) });
    const names = marks.map((own) => namesRead(own, turn, told.names));
    const namesFoot = names[0].foot + names[1].foot;
    const namesHead = names[0].head + names[1].head;
    return weigh(LANE_WEIGHTS, { ...read, ...laneEvidenceOf(signs, told, read.centre), namesFoot, namesHead });
  };
  const aside = quarterTurn(seen);
  const front = [score(seen, 0), score(aside, 1)];
  return normalised([...front, score(halfTurnInPlace(seen), 2), score(halfTurnInPlace(aside), 3)]);
}

function weigh<K extends string>(weights: Readonly<Record<K, number>>, signs: Readonly<Record<K, number>>): number {
  return (Object.keys(weights) as K[]).reduce((sum, name) => sum + weights[name] * signs[name], 0);
}

/**
 * The turns that set plates upright which were photographed together. They are taken to stand alike, so that a clear one
 * speaks for a poor one, unless one of them is clearly turned another way.
 * @param standings one per photo, or per plate
 * @param crosswise which of them are seen, by their plates' shape, to stand a quarter turn from the others, to either side;
 *   left out: none. Those and the others must come to fit, unless what is on them speaks clearly against it.
 */
export function uprightTurns(standings: readonly Standing[], crosswise: readonly boolean[] = []): UprightTurn[] {
  const of = (side: boolean) => standingTogether(standings.filter((_, i) => (crosswise[i] ?? false) === side));
  if (crosswise.includes(true) && quartersApart(of(false), of(true)) > MISLED) {
    const [along, across] = [fitting(of(false), of(true)), fitting(of(true), of(false))];
    return standings.map((one, i) => ownOrCommon(one, decide(crosswise[i] ? across : along, LYING), true));
  }
  const common = decide(standingTogether(standings));
  return standings.map((one) => ownOrCommon(one, common));
}

/**
 * The turn of plates of one run that are each unsure by themselves: the likeliest of what all show together. Upright is what most are,
 * and a false turn is worse than a missed one.
 */
export function likeliestTurn(standings: readonly Standing[]): Turn {
  const together = standingTogether(standings).map((log, turn) => log + Math.log(OF_RUNS[turn]));
  return together.indexOf(Math.max(...together)) as Turn;
}

function ownOrCommon(one: Standing, common: UprightTurn, crosswise = false): UprightTurn {
  const own = decide(one);
  if (crosswise && own.turn % 2 !== common.turn % 2) return common;
  return ownWay(one, common.turn, OWN_WAY) ?? common;
}

/** The turn of a plate of a photo, all plates of which are taken to stand alike, unless it plainly does not. */
export function turnBesideOthers(one: Standing, photo: UprightTurn): UprightTurn {
  return ownWay(one, photo.turn, BESIDE) ?? photo;
}

/** True where a plate stands another way than the others are turned, and that is plain. */
export function goesItsOwnWay(one: Standing, others: Turn): boolean {
  return ownWay(one, others, OWN_WAY) !== null;
}

/**
 * The turn of a plate that plainly does not stand as the others are turned, or null. One that plainly lies on its side where the others
 * stand is not turned like those, though its sides may be hard to tell apart: so it would be wrong in any case.
 * @param surer by how much (ln) its own way must be likelier
 */
function ownWay(one: Standing, others: Turn, surer: number): UprightTurn | null {
  const own = decide(one);
  const plain = own.sure || own.turn % 2 !== others % 2;
  return plain && one[own.turn] - one[others] > surer ? own : null;
}

/** Probability that two plates stand a quarter turn apart, each looked at by itself. */
function quartersApart(a: Standing, b: Standing): number {
  const [p, q] = [weighed(a), weighed(b)];
  return (p[0] + p[2]) * (q[1] + q[3]) + (p[1] + p[3]) * (q[0] + q[2]);
}

/** How a plate stands, given another that stands a quarter turn from it: on its side where that one does not. */
function fitting(one: Standing, other: Standing): Standing {
  const [up, right, down, left] = weighed(other);
  return normalised(one.map((log, turn) => log + Math.log(turn % 2 ? up + down : right + left)));
}

/**
 * How plates stand that are taken to stand alike. Logarithms are added up and divided by the root of their number, since
 * what misleads in one misleads in the others.
 */
export function standingTogether(standings: readonly Standing[]): Standing {
  const root = Math.sqrt(Math.max(1, standings.length));
  return normalised([0, 1, 2, 3].map((t) => standings.reduce((s, one) => s + one[t], 0) / root));
}

function decide(standing: Standing, lying = TURNED): UprightTurn {
  const [up, right, down, left] = weighed(standing);
  const sideways = right + left;
  if (sideways > lying)
    return { turn: right > left ? 1 : 3, sure: sideways > TURNED && Math.max(right, left) > CLEARER * sideways };
  if (down > TURNED) return { turn: 2, sure: true };
  return { turn: 0, sure: up > DOUBT };
}

/** Probabilities of the four turns, with how often plates are photographed so. */
function weighed(standing: Standing): number[] {
  const parts = standing.map((log, turn) => BEFOREHAND[turn] * Math.exp(log));
  const total = parts.reduce((sum, p) => sum + p, 0);
  return parts.map((p) => p / total);
}

/** How a plate stands, told of it after so many quarter turns more. */
export function turnedBy(standing: Standing, turn: Turn): Standing {
  const [a, b, c, d] = TURNS.map((t) => standing[(t + turn) & 3]);
  return [a, b, c, d];
}

/** The corners as they run when the plate stands upright: the first becomes the top left. */
export function turnQuad(quad: Quad, turn: Turn): Quad {
  const at = (i: number) => quad[(i - turn + 4) & 3];
  return [at(0), at(1), at(2), at(3)];
}

function normalised(scores: readonly number[]): Standing {
  const top = Math.max(...scores);
  const norm = top + Math.log(scores.reduce((sum, s) => sum + Math.exp(s - top), 0));
  const [a, b, c, d] = scores.map((s) => s - norm);
  return [a, b, c, d];
}
