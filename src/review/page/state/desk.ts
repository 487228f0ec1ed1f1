import { type ActAnswer, type ActRequest, ADDRESS, NEWS, type News, type PageState } from "../../api.ts";
import { type Ahead, aheadOf } from "./ahead.ts";
import { ALL_SAVED, type Keeper, type Keeping, keeper } from "./keeper.ts";
import { shared } from "./shared.ts";

/** What the page knows at one moment. */
export interface View {
  readonly state: PageState;
  readonly keeping: Keeping;
  /** False while the server does not answer. */
  readonly connected: boolean;
}

export interface Desk {
  readonly view: View;
  readonly keeper: Keeper;
  readonly ahead: Ahead;
  subscribe(listener: () => void): () => void;
}

/** Fetches the state; throws one clear line where none comes. */
export async function fetchState(): Promise<PageState> {
  const answer = await fetch(ADDRESS.state).catch(() => null);
  if (answer === null) throw new Error("platepool does not answer. Is it still running in the terminal?");
  if (answer.status === 403) throw new Error("Open the link that platepool wrote to the terminal.");
  if (!answer.ok) throw new Error("platepool failed. Look at the terminal.");
  return answer.json();
}

function post(address: string, request: ActRequest): Promise<Response> {
  return fetch(address, {
    method: "POST",
    headers: { "Content-Type": "application/json" },
    body: JSON.stringify(request),
  });
}

async function postAct(request: ActRequest): Promise<ActAnswer> {
  const answer = await post(ADDRESS.act, request).catch(() => null);
  if (answer === null) throw new Error("platepool does not answer. Is it still running in the terminal?");
  if (answer.status !== 200 && answer.status !== 409) throw new Error((await answer.text()).trim());
  return answer.json();
}

/** True while an act is on its way: the newest state comes with its answer and need not be fetched besides. */
function answerComes({ waiting, trouble }: Keeping): boolean {
  return waiting.length > 0 && trouble === null;
}

/** Keeps the page in step with the server: its acts go there, news come from there. */
export function openDesk(first: PageState): Desk {
  let view: View = { state: first, keeping: ALL_SAVED, connected: true };
  const listeners = new Set<() => void>();
  const set = (next: Partial<View>) => {
    view = { ...view, ...next };
    for (const listener of listeners) listener();
  };
  const newer = (state: PageState) => {
    // Answers may overtake each other; an older state never takes the place of a newer one.
    if (state.revision >= view.state.revision) set({ state: shared(view.state, state) });
  };
  const events = new EventSource(ADDRESS.events);
  let fetching = false;
  let wanted = 0;
  const catchUp = async () => {
    if (fetching || answerComes(view.keeping)) return;
    fetching = true;
    try {
      while (wanted > view.state.revision) {
        const before = view.state.revision;
        newer(await fetchState());
        if (view.state.revision === before) break;
      }
    } catch {
      set({ connected: false });
    }
    fetching = false;
  };
  events.addEventListener(NEWS, (event) => {
    wanted = (JSON.parse(event.data) as News).revision;
    set({ connected: true });
    void catchUp();
  });
  events.addEventListener("error", () => set({ connected: false }));
  const keep = keeper({
    now: () => view.state,
    post: postAct,
    onState: newer,
    onChange: (keeping) => {
      set({ keeping });
      void catchUp();
    },
  });
  return {
    get view() {
      return view;
    },
    keeper: keep,
    ahead: aheadOf(
      () => (view.keeping.waiting.length === 0 ? view.state.last : null),
      (request) => post(ADDRESS.ahead, request),
    ),
    subscribe(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  };
}
