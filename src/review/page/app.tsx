import { useCallback, useEffect, useState } from "preact/hooks";
import type { Act } from "../../model/index.ts";
import type { Draft } from "./board/moves.ts";
import { FirstReading } from "./parts/firstReading.tsx";
import { Header } from "./parts/header.tsx";
import { History } from "./parts/history.tsx";
import { Notices } from "./parts/notices.tsx";
import type { Looking } from "./plate/plateView.tsx";
import { type InHand, Run } from "./run.tsx";
import type { Desk } from "./state/desk.ts";
import { useShortcuts } from "./state/shortcuts.ts";
import { useView } from "./state/useView.ts";

/** The whole page. */
export function App({ desk }: { readonly desk: Desk }) {
  const view = useView(desk);
  const { state, keeping } = view;
  const { keeper } = desk;
  const [inHand, setInHand] = useState<InHand>(null);
  const [draft, setDraft] = useState<Draft | null>(null);
  const [asking, setAsking] = useState(false);
  const [history, setHistory] = useState(false);
  const [looking, setLooking] = useState<Looking | null>(null);
  const act = useCallback((a: Act) => keeper.keep(a), [keeper]);
  // An act that is still being saved can be taken back too: the wish waits behind it.
  const waits = keeping.waiting.some((a) => a.kind !== "undo" && a.kind !== "redo");
  const undo = state.undo !== null || waits ? () => keeper.keep({ kind: "undo", of: null }) : null;
  const redo = state.redo !== null && !waits ? () => keeper.keep({ kind: "redo", of: null }) : null;
  useShortcuts(undo, redo);
  useEffect(() => {
    document.title = state.result?.run ?? state.folder;
  }, [state.result?.run, state.folder]);
  const header = (
    <Header view={view} onUndo={undo} onRedo={redo} onHistory={() => setHistory(true)} onRetry={() => keeper.retry()} />
  );
  const sheets = history && (
    <History
      state={state}
      onClose={() => setHistory(false)}
      onReturn={(to) => {
        setHistory(false);
        act({ kind: "return", to });
      }}
    />
  );
  const { result } = state;
  if (result === null)
    return (
      <>
        {header}
        <main>
          <Notices
            state={state}
            keeping={keeping}
            onForgive={() => keeper.forgive()}
            onKeep={() => undefined}
            onTube={() => undefined}
          />
          {state.reading.busy ? (
            <FirstReading state={state} />
          ) : (
            <p class="nothing">No plate has been read yet. Put photos of your plates into the run folder.</p>
          )}
        </main>
        {sheets}
      </>
    );
  return (
    <>
      {header}
      <Run
        {...{ view, result, inHand, setInHand, draft, setDraft, asking, setAsking, looking, setLooking, act }}
        onForgive={() => keeper.forgive()}
        onRetry={() => keeper.retry()}
        onAhead={desk.ahead.lies}
      />
      {sheets}
    </>
  );
}
