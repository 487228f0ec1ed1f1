import type { Act } from "../../../model/index.ts";
import type { ActAnswer, ActRequest, PageState } from "../../api.ts";

/** An act, or the wish to undo or redo whatever is the last one by then. */
export type Wished = Act | { readonly kind: "undo" | "redo"; readonly of: null };

/** What of the person's acts is safe. */
export interface Keeping {
  /** Acts that are not on disk yet, oldest first. */
  readonly waiting: readonly Wished[];
  /** Why the oldest of them could not be sent, or null. It waits to be tried again. */
  readonly trouble: string | null;
  /** Why the last act was refused, or null; what came after it was dropped. */
  readonly refused: string | null;
}

export const ALL_SAVED: Keeping = { waiting: [], trouble: null, refused: null };

export interface Keeper {
  readonly keeping: Keeping;
  /** Sends an act after those that wait. It counts as saved only when the server says that it is on disk. */
  keep(act: Wished): void;
  /** Tries again to send what waits. */
  retry(): void;
  /** The person has read why something was refused. */
  forgive(): void;
}

export interface KeeperPorts {
  /** The state that the person has before them. */
  readonly now: () => Pick<PageState, "last" | "undo" | "redo">;
  /** Sends one act; throws where no answer came. */
  readonly post: (request: ActRequest) => Promise<ActAnswer>;
  readonly onState: (state: PageState) => void;
  readonly onChange: (keeping: Keeping) => void;
}

/** Keeps acts one at a time, in the order in which they were done. */
export function keeper({ now, post, onState, onChange }: KeeperPorts): Keeper {
  let keeping = ALL_SAVED;
  let sending = false;
  const set = (next: Partial<Keeping>) => {
    keeping = { ...keeping, ...next };
    onChange(keeping);
  };
  const send = async () => {
    if (sending) return;
    sending = true;
    try {
      while (keeping.waiting.length > 0) {
        const act = spelledOut(keeping.waiting[0], now());
        if (act === null) {
          set({ waiting: keeping.waiting.slice(1) });
          continue;
        }
        const answer = await post({ last: now().last, act });
        onState(answer.state);
        if ("saved" in answer) set({ waiting: keeping.waiting.slice(1), trouble: null });
        else set({ waiting: [], trouble: null, refused: answer.refused });
      }
    } catch (error) {
      set({ trouble: error instanceof Error ? error.message : String(error) });
    } finally {
      sending = false;
    }
  };
  return {
    get keeping() {
      return keeping;
    },
    keep(act) {
      set({ waiting: [...keeping.waiting, act], refused: null });
      // What waits for another try goes first, and only when the person asks for it.
      if (keeping.trouble === null) void send();
    },
    retry() {
      set({ trouble: null });
      void send();
    },
    forgive: () => set({ refused: null }),
  };
}

/** The act that a wish comes to; null where there is nothing to undo or redo. */
function spelledOut(wished: Wished, now: Pick<PageState, "undo" | "redo">): Act | null {
  if (!("of" in wished)) return wished;
  const of = wished.of ?? now[wished.kind];
  return of === null ? null : { kind: wished.kind, of };
}
