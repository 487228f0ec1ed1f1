import type { Belief, TubeBelief } from "./belief.ts";
import { plainOdds, type TubeOdds, tubeOdds } from "./odds.ts";

/** The odds of every tube (index 0: tube 1), as they are asked for. */
export interface Judgement {
  /** To be each thing it can be, however narrowly. */
  readonly odds: readonly TubeOdds[];
  /** Were it not close to a line: what confidence is asked about. */
  readonly plain: readonly TubeOdds[];
  /** What a wrong place is expected to cost goes by: plain, but for plates that may have been misread. */
  readonly weighed: readonly TubeOdds[];
}

/**
 * @param unlooked [tube] what would be believed had nobody spotted it
 * @param misread chance of each tube that its plate was misread: it is then as if nobody had spotted it
 */
export function judgeTubes(
  tubes: readonly TubeBelief[],
  unlooked: readonly (readonly Belief[])[],
  misread: readonly number[],
): Judgement {
  const plain = tubes.map((t) => plainOdds(t.components));
  return {
    odds: tubes.map((t) => tubeOdds(t.components)),
    plain,
    weighed: plain.map((odds, t) => (tubes[t].seen ? blended(odds, tubeOdds(unlooked[t]), misread[t]) : odds)),
  };
}

/** The odds of one tube by two opinions, the second with the given chance; shares by the first. */
function blended(a: TubeOdds, b: TubeOdds, chance: number): TubeOdds {
  const of = (x: number, y: number) => (1 - chance) * x + chance * y;
  return {
    clean: a.clean.map((p, k) => of(p, b.clean[k])),
    mixed: of(a.mixed, b.mixed),
    empty: of(a.empty, b.empty),
    share: a.share,
  };
}
