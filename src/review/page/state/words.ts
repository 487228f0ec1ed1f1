import type { ResultFraction } from "../../../model/index.ts";
import { isDoubtful, shareInWords, sharesOf } from "../../../report/drawing/tube.ts";

/** One tube in one line, with the pool it stands in now. */
export function tubeWords(tube: ResultFraction, pool: string | null): string {
  const state = tube.seen ? tube.state : `${tube.state}, not spotted`;
  const shares = sharesOf(tube).map(([c, s]) => `${c} ${shareInWords(tube, s)}`);
  const where = pool === null ? "in no pool" : `pool ${pool}`;
  return `Tube ${[tube.number, state].join(": ")}${shares.length > 0 ? `, ${shares.join(", ")}` : ""}; ${where}${isDoubtful(tube) ? "; doubtful" : ""}`;
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
