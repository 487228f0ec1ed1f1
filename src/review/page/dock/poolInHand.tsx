import { useState } from "preact/hooks";
import type { DecidedPool, JudgedPool } from "../../../model/index.ts";
import { intervalInWords, numberRanges, percent, volumeInWords } from "../../../report/words.ts";
import { Icon } from "../parts/icon.tsx";

export interface PoolInHandProps {
  readonly pool: DecidedPool;
  readonly judged: JudgedPool;
  readonly before: DecidedPool | null;
  readonly after: DecidedPool | null;
  readonly onName: (name: string) => void;
  readonly onAccept: () => void;
  readonly onReopen: () => void;
  readonly onJoin: (other: string) => void;
  readonly onClose: () => void;
}

/** A pool in hand: its worth, its name, and what may be done with it. */
export function PoolInHand({ pool, judged, before, after, ...on }: PoolInHandProps) {
  const [name, setName] = useState(pool.name);
  const rename = () => {
    const plain = name.trim();
    if (plain !== "" && plain !== pool.name) on.onName(plain);
    else setName(pool.name);
  };
  return (
    <div class="card" data-in-hand={`pool ${pool.name}`}>
      <div class="cardhead">
        <h2>Pool {pool.name}</h2>
        <span>
          tubes {numberRanges(pool.fractions)} ·{" "}
          {[judged.components.join(" + "), judged.kind].filter(Boolean).join(" ")}
          {pool.accepted ? " · accepted" : ""}
        </span>
        <button type="button" class="close" aria-label="Put it down" onClick={on.onClose}>
          <Icon name="close" />
        </button>
      </div>
      <Worth judged={judged} />
      {judged.kind === "clean" && (
        <p class="why">
          Clean in what the plates show. One spot is never proof of purity: confirm it by another method.
        </p>
      )}
      <div class="deeds">
        <form
          class="naming"
          onSubmit={(event) => {
            event.preventDefault();
            rename();
          }}
        >
          <label>
            Name
            <input
              value={name}
              maxLength={40}
              onInput={(event) => setName(event.currentTarget.value)}
              onBlur={rename}
            />
          </label>
        </form>
        {pool.accepted ? (
          <button type="button" onClick={on.onReopen}>
            Open it again
          </button>
        ) : (
          <button type="button" onClick={on.onAccept}>
            <Icon name="check" />
            Accept this pool
          </button>
        )}
        {before && (
          <button type="button" onClick={() => on.onJoin(before.name)}>
            <Icon name="join" />
            Join with {before.name}
          </button>
        )}
        {after && (
          <button type="button" onClick={() => on.onJoin(after.name)}>
            <Icon name="join" />
            Join with {after.name}
          </button>
        )}
      </div>
    </div>
  );
}

/** Purity, recovery and volume in figures. */
export function Worth({ judged }: { readonly judged: JudgedPool }) {
  const { kind, purity, recovery, volumeMl, components } = judged;
  const main = components[0];
  return (
    <dl class="worth">
      {kind !== "empty" && (
        <>
          <div>
            <dt>Purity</dt>
            <dd>{intervalInWords(purity)}</dd>
          </div>
          <div>
            <dt>Recovery{main ? ` of ${main}` : ""}</dt>
            <dd>{intervalInWords(recovery)}</dd>
          </div>
        </>
      )}
      <div>
        <dt>Volume</dt>
        <dd>{volumeInWords(volumeMl) || "not known"}</dd>
      </div>
      <div>
        <dt>Sure</dt>
        <dd>{percent(judged.confidence)}</dd>
      </div>
    </dl>
  );
}
