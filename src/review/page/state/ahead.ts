import type { Mending } from "../../../model/index.ts";
import type { ActRequest } from "../../api.ts";

/** Has what is about to be mended read before it is let go. */
export interface Ahead {
  /** Something that is held lies so now; null: nothing is held any more. */
  lies(mending: Mending | null): void;
}

/** A hand that has not moved for so long, ms, may be about to let go. */
export const STILL_MS = 120;

/**
 * Tells the server of a mark that is held still: what follows is worked out while the person looks whether it lies right,
 * and is there when they let go. One at a time, the newest counts.
 */
export function aheadOf(last: () => number | null, post: (request: ActRequest) => Promise<unknown>): Ahead {
  let timer: ReturnType<typeof setTimeout> | undefined;
  let next: Mending | null = null;
  let onWay = false;
  const send = async () => {
    const after = last();
    if (onWay || next === null || after === null) return;
    const act = { kind: "mend", mending: next } as const;
    next = null;
    onWay = true;
    // Nothing hangs on it: what is not read ahead is read when it is let go.
    await post({ last: after, act }).catch(() => undefined);
    onWay = false;
    void send();
  };
  return {
    lies(mending) {
      clearTimeout(timer);
      next = null;
      if (mending === null) return;
      timer = setTimeout(() => {
        next = mending;
        void send();
      }, STILL_MS);
    },
  };
}
