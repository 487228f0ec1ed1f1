import { promises as fs } from "node:fs";
import { basename } from "node:path";
import type { Crew } from "./crew.ts";

/** Photos that are still being written. */
export interface Arrivals {
  /** Paths of the photos that are not whole yet. */
  readonly paths: ReadonlySet<string>;
  /** Something was written at a path. */
  wrote(path: string): void;
  close(): void;
}

/** How long a file must keep its size, and how often that is looked at, ms. */
const QUIET_MS = 700;
const LOOK_MS = 150;
/** A photo that is cut short and does not grow for so long is taken as it is: it will be told as cut short. */
const PATIENCE_MS = 12_000;

/**
 * Waits until a photo has stopped growing and decodes whole.
 * @param onChange told when a photo begins to arrive, and when it is there (or has gone)
 */
export function openArrivals(crew: Pick<Crew, "check">, onChange: () => void): Arrivals {
  const underWay = new Map<string, { size: number; since: number; checked: number }>();
  let open = true;
  const follow = async (path: string) => {
    for (;;) {
      await new Promise((resolve) => setTimeout(resolve, LOOK_MS));
      const seen = underWay.get(path);
      if (!open || seen === undefined) return;
      const stat = await fs.stat(path).catch(() => null);
      if (stat === null) break;
      if (stat.size !== seen.size) {
        Object.assign(seen, { size: stat.size, since: Date.now() });
        continue;
      }
      const quiet = Date.now() - seen.since;
      if (quiet < QUIET_MS || seen.checked === stat.size) {
        if (quiet < PATIENCE_MS) continue;
        break;
      }
      seen.checked = stat.size;
      const fault = await crew.check({ file: basename(path), path }).catch(() => null);
      if (!isUnfinished(fault)) break;
    }
    underWay.delete(path);
    if (open) onChange();
  };
  return {
    get paths() {
      return new Set(underWay.keys());
    },
    wrote(path) {
      const seen = underWay.get(path);
      if (seen) {
        Object.assign(seen, { since: Date.now(), checked: -1 });
        return;
      }
      underWay.set(path, { size: -1, since: Date.now(), checked: -1 });
      void follow(path);
      onChange();
    },
    close() {
      open = false;
      underWay.clear();
    },
  };
}

/** Faults that the rest of the file may mend. */
function isUnfinished(fault: string | null): boolean {
  return fault === "photo-truncated" || fault === "photo-empty" || fault === "photo-damaged";
}
