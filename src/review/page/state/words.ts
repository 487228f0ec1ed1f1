import type { ResultFraction } from "../../../model/index.ts";
import { isDoubtful, shareInWords, sharesOf } from "../../../report/drawing/tube.ts";
import { percent } from "../../../report/words.ts";

/** One tube in one line, with the pool it stands in now. */
export function tubeWords(tube: ResultFraction, pool: string | null): string {
  const state = tube.seen ? tube.state : `${tube.state}, not spotted`;
  const shares = sharesOf(tube).map(([c, s]) => `${c} ${shareInWords(tube, s)}`);
  const where = pool === null ? "in no pool" : `pool ${pool}`;
  return `Tube ${[tube.number, state].join(": ")}${shares.length > 0 ? `, ${shares.join(", ")}` : ""}; ${where}${isDoubtful(tube) ? "; doubtful" : ""}`;
}

/** Where a tube stands and how sure that is: the figure is for its place in the pool, not for what it holds. */
export function placeInWords(
  { pool, confidence }: Pick<ResultFraction, "pool" | "confidence">,
  stands: string,
): string {
  const sure = `${percent(confidence)} sure`;
  return pool === null || pool === stands
    ? `pool ${stands}, its place there ${sure}`
    : `pool ${stands}; suggested: pool ${pool}, ${sure}`;
}

/** A time as people at the bench read it: day and minute, in their own zone. */
export function timeInWords(iso: string): string {
  const time = new Date(iso);
  return Number.isNaN(time.getTime())
    ? iso
    : time.toLocaleString(undefined, {
        day: "numeric",
        month: "short",
        hour: "2-digit",
        minute: "2-digit",
        second: "2-digit",
      });
}

/** First letter large, for the start of a sentence. */
export function sentence(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
