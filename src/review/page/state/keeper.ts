import type { Act } from "../../../model/index.ts";
import type { ActAnswer, ActRequest, PageState } from "../../api.ts";

/** What of the person's acts is safe. */
export interface Keeping {
  /** Acts that are not on disk yet, oldest first. */
  readonly waiting: readonly Act[];
  /** Why the oldest of them could not be sent, or null. It waits to be tried again. */
  readonly trouble: string | null;
  /** Why the last act was refused, or null; what came after it was dropped. */
  readonly refused: string | null;
}

export const ALL_SAVED: Keeping = { waiting: [], trouble: null, refused: null };

export interface Keeper {
  readonly keeping: Keeping;
  /** Sends an act after those that wait. It counts as saved only when the server says that it is on disk. */
  keep(act: Act): void;
  /** Tries again to send what waits. */
  retry(): void;
  /** The person has read why something was refused. */
  forgive(): void;
}

export interface KeeperPorts {
  /** The journal's last line that the person has before them. */
  readonly last: () => number;
  /** Sends one act; throws where no answer came. */
  readonly post: (request: ActRequest) => Promise<ActAnswer>;
  readonly onState: (state: PageState) => void;
  readonly onChange: (keeping: Keeping) => void;
}

/** Keeps acts one at a time, in the order in which they were done. */
export function keeper({ last, post, onState, onChange }: KeeperPorts): Keeper {
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
        const answer = await post({ last: last(), act: keeping.waiting[0] });
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
