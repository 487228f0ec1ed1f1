import type { PageState } from "../../api.ts";
import { timeInWords } from "../state/words.ts";
import { Sheet } from "./sheet.tsx";

export interface HistoryProps {
  readonly state: PageState;
  readonly onReturn: (to: number) => void;
  readonly onClose: () => void;
}

/** All that was ever decided, newest first; any state can be brought back, and nothing is erased by that. */
export function History({ state, onReturn, onClose }: HistoryProps) {
  const entries = state.history.toReversed();
  return (
    <Sheet title="History" name="history" onClose={onClose}>
      {state.journalFaults.map((fault) => (
        <p class="why" key={fault}>
          {fault}
        </p>
      ))}
      {entries.length === 0 ? (
        <p>Nothing was decided yet: what you see is the suggestion.</p>
      ) : (
        <>
          <p class="hint">Going back is an act of its own: nothing is erased, and it can be undone.</p>
          <ol class="acts">
            {entries.map(({ id, at, words, stands }, i) => (
              <li key={id} class={stands ? "" : "gone"}>
                <div>
                  <span class="actwords">
                    {id}. {words}
                    {!stands && <em> (does not stand now)</em>}
                  </span>
                  <time dateTime={at}>{timeInWords(at)}</time>
                </div>
                {i > 0 && (
                  <button type="button" onClick={() => onReturn(id)}>
                    Back to here<span class="unseen">, after act {id}</span>
                  </button>
                )}
              </li>
            ))}
            <li>
              <div>
                <span class="actwords">The suggestion, before anything was decided</span>
              </div>
              <button type="button" onClick={() => onReturn(0)}>
                Back to here<span class="unseen">, the suggestion</span>
              </button>
            </li>
          </ol>
        </>
      )}
    </Sheet>
  );
}
