import type { Spot } from "../../model/index.ts";

/** A candidate of a lane as a first look judged it. */
export interface Judged {
  /** Row of its mode on the common Rf grid. */
  readonly mode: number;
  readonly spot: Spot;
}

/** What the other candidates of the plate say of one. */
export interface Neighbours {
  /** Confidence of the likeliest candidate at the same Rf in the next lanes: of the likelier lane and of the other one, 0 where nothing is. */
  readonly next: readonly [number, number];
  /** The same two lanes away, the likelier side. */
  readonly second: number;
  /** Sum over the lanes farther away, each divided by its distance; at most 2. */
  readonly far: number;
  /** Likeness in colour, -1..1, to the clear spots of other lanes at the same Rf: of the likest; null where there is none. */
  readonly sameRf: number | null;
  /** Likeness in colour to all clear spots of the plate: median and greatest; null where there is none. */
  readonly plate: { readonly median: number; readonly most: number } | null;
}

/** Modes nearer than this, in rows, stand at one Rf. */
export const SAME_RF = 5;
/** Colours are compared a little farther off: what looks alike may stand a trifle apart. */
const SAME_RF_CLEAR = 6;
/** A spot this sure shows what the plate's spots look like, unless it stands on the start line. */
const CLEAR = { confidence: 0.9, rf: 0.03 };

/** What the other lanes' candidates say of candidate `own` of lane `lane`. */
export function neighboursOf(lanes: readonly (readonly Judged[])[], lane: number, own: Judged): Neighbours {
  const at = (i: number): number => {
    const near = (lanes[i] ?? []).filter((c) => Math.abs(c.mode - own.mode) < SAME_RF);
    return Math.max(0, ...near.map((c) => c.spot.confidence));
  };
  let far = 0;
  for (let i = 0; i < lanes.length; i++) {
    const distance = Math.abs(i - lane);
    if (distance > 2) far += at(i) / distance;
  }
  const [left, right] = [at(lane - 1), at(lane + 1)];
  const likeness: number[] = [];
  let sameRf: number | null = null;
  for (const c of lanes.flat()) {
    if (c === own || c.spot.confidence <= CLEAR.confidence || c.spot.rf <= CLEAR.rf) continue;
    const like = colourLikeness(own.spot, c.spot);
    likeness.push(like);
    if (Math.abs(c.mode - own.mode) < SAME_RF_CLEAR) sameRf = Math.max(sameRf ?? -1, like);
  }
  likeness.sort((a, b) => a - b);
  return {
    next: [Math.max(left, right), Math.min(left, right)],
    second: Math.max(at(lane - 2), at(lane + 2)),
    far: Math.min(2, far),
    sameRf,
    plate:
      likeness.length === 0 ? null : { median: likeness[likeness.length >> 1], most: likeness[likeness.length - 1] },
  };
}

/** Cosine between the colours of two spots in all photos of their plate. */
function colourLikeness(a: Spot, b: Spot): number {
  let dot = 0;
  let aa = 1e-12;
  let bb = 1e-12;
  a.responses.forEach(({ colour }, photo) => {
    const other = b.responses[photo].colour;
    colour.forEach((v, c) => {
      dot += v * other[c];
      aa += v * v;
      bb += other[c] * other[c];
    });
  });
  return dot / Math.sqrt(aa * bb);
}
