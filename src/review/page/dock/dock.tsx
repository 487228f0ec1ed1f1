import type { ComponentChildren } from "preact";
import { Icon } from "../parts/icon.tsx";

export interface DockProps {
  readonly doubts: number;
  readonly accepted: boolean;
  readonly busy: boolean;
  readonly asking: boolean;
  readonly onNextDoubt: () => void;
  readonly onAcceptAll: () => void;
  readonly onAsk: (asking: boolean) => void;
  readonly children: ComponentChildren;
}

/** What is in hand, and the two things mostly wanted: look at what is doubtful, say yes to the rest. */
export function Dock({ doubts, accepted, busy, asking, onNextDoubt, onAcceptAll, onAsk, children }: DockProps) {
  return (
    <aside class="dock" aria-label="What is in hand">
      <div class="inhand">{children}</div>
      <div class="main-actions">
        {asking ? (
          <div class="ask" role="group" aria-label="Accept although there are doubts">
            <p>{doubts === 1 ? "One tube is" : `${doubts} tubes are`} doubtful. Accept all the same?</p>
            <button type="button" class="primary" onClick={onAcceptAll}>
              Accept all the same
            </button>
            <button type="button" onClick={() => onAsk(false)}>
              Not yet
            </button>
          </div>
        ) : (
          <>
            <button type="button" class={doubts > 0 ? "primary" : ""} onClick={onNextDoubt} disabled={doubts === 0}>
              <Icon name="next" />
              {doubts > 0 ? `Next doubt (${doubts})` : "No doubts"}
            </button>
            <button
              type="button"
              class={doubts === 0 && !accepted ? "primary" : ""}
              onClick={() => (doubts > 0 ? onAsk(true) : onAcceptAll())}
              disabled={accepted || busy}
            >
              <Icon name="check" />
              {accepted ? "All accepted" : "Accept all"}
            </button>
          </>
        )}
      </div>
    </aside>
  );
}
