import type { Contradiction } from "../../../model/index.ts";
import type { PageState } from "../../api.ts";
import type { Keeping } from "../state/keeper.ts";
import { Icon } from "./icon.tsx";

export interface NoticesProps {
  readonly state: PageState;
  readonly keeping: Keeping;
  readonly onForgive: () => void;
  /** The decision stands as it is; what the plates say now is known. */
  readonly onKeep: (contradiction: Contradiction) => void;
  readonly onTube: (tube: number) => void;
}

/** What the person should know before anything else: refusals, faults, photos that cannot be read, contradictions. */
export function Notices({ state, keeping, onForgive, onKeep, onTube }: NoticesProps) {
  const { reading, result } = state;
  const rejected = result?.photos.filter((p) => p.status === "rejected") ?? [];
  return (
    <div class="notices" aria-live="polite">
      {keeping.refused !== null && (
        <div class="notice grave">
          <Icon name="warn" />
          <p>Not kept: {keeping.refused}.</p>
          <button type="button" onClick={onForgive}>
            Understood
          </button>
        </div>
      )}
      {reading.fault !== null && (
        <div class="notice grave">
          <Icon name="warn" />
          <p>{reading.fault}</p>
        </div>
      )}
      {state.shut !== null && (
        <div class="notice grave" data-shut>
          <Icon name="warn" />
          <p>{state.shut}</p>
        </div>
      )}
      {state.contradictions.map((c) => (
        <div class="notice asks" key={`${c.code}-${c.pool}-${c.fraction}-${c.photo}`} data-contradiction={c.code}>
          <Icon name="warn" />
          <p>
            <b>The plates now say otherwise.</b> {c.message} {c.remedy}
          </p>
          {c.fraction !== null && (
            <button type="button" onClick={() => onTube(c.fraction!)}>
              Look at tube {c.fraction}
            </button>
          )}
          {(c.pool !== null || c.code === "tube-undecided") && (
            <button type="button" onClick={() => onKeep(c)}>
              {c.pool === null ? "Take as suggested" : "Keep as decided"}
            </button>
          )}
        </div>
      ))}
      {rejected.map((photo) => (
        <div class="notice" key={photo.file} data-rejected={photo.file}>
          <Icon name="plate" />
          <p>
            <b class="file">{photo.file}</b> was not read: {photo.reason}
          </p>
        </div>
      ))}
      {reading.arriving.map((file) => (
        <div class="notice" key={file} data-arriving={file}>
          <Icon name="plate" />
          <p>
            <b class="file">{file}</b> is still arriving.
          </p>
        </div>
      ))}
    </div>
  );
}
