import type { DecidedPool, ResultFraction } from "../../../model/index.ts";
import { toneChip } from "../../../report/drawing/marks.ts";
import { type Palette, toneOf } from "../../../report/drawing/palette.ts";
import { isDoubtful, shareInWords, sharesOf } from "../../../report/drawing/tube.ts";
import { Drawn } from "../parts/drawn.tsx";
import { Icon } from "../parts/icon.tsx";
import { placeInWords } from "../state/words.ts";

export interface TubeInHandProps {
  readonly tube: ResultFraction;
  readonly pool: DecidedPool;
  /** Pools of the neighbouring tubes, where they are others. */
  readonly before: DecidedPool | null;
  readonly after: DecidedPool | null;
  readonly contradiction: string | null;
  readonly palette: Palette;
  readonly onSplit: (() => void) | null;
  readonly onMove: (to: string | null) => void;
  readonly onLook: (() => void) | null;
  /** What the tube log says of it; empty: nothing. */
  readonly logged: string;
  readonly onLog: () => void;
  readonly onClose: () => void;
}

/** A tube in hand: what it holds, how sure that is and why, and where it may go. */
export function TubeInHand(props: TubeInHandProps) {
  const { tube, pool, before, after, palette } = props;
  const shares = sharesOf(tube);
  const doubtful = isDoubtful(tube);
  return (
    <div class="card" data-in-hand={`tube ${tube.number}`}>
      <div class="cardhead">
        <h2>
          Tube {tube.number}
          {doubtful && <span class="badge">?</span>}
        </h2>
        <span>
          {tube.seen ? tube.state : `${tube.state}, not spotted`} · {placeInWords(tube, pool.name)}
        </span>
        <button type="button" class="close" aria-label="Put it down" onClick={props.onClose}>
          <Icon name="close" />
        </button>
      </div>
      {shares.length > 0 && (
        <ul class="shares">
          {shares.map(([component, share]) => (
            <li key={component}>
              <Drawn svg={toneChip(toneOf(palette, component))} class="chipbox" />
              <b>{component}</b> {shareInWords(tube, share)}
            </li>
          ))}
        </ul>
      )}
      {props.contradiction && <p class="why">{props.contradiction}</p>}
      {tube.reason && <p class="why">{tube.reason}</p>}
      {props.logged !== "" && (
        <p class="logged">
          <b>Tube log:</b> {props.logged}
        </p>
      )}
      <div class="deeds">
        {before && (
          <button type="button" onClick={() => props.onMove(before.name)}>
            <Icon name="back" />
            To pool {before.name}
          </button>
        )}
        {after && (
          <button type="button" onClick={() => props.onMove(after.name)}>
            <Icon name="next" />
            To pool {after.name}
          </button>
        )}
        {props.onSplit && (
          <button type="button" onClick={props.onSplit}>
            <Icon name="split" />
            New pool from here
          </button>
        )}
        {pool.fractions.length > 1 && (
          <button type="button" onClick={() => props.onMove(null)}>
            Set apart
          </button>
        )}
        {props.onLook && (
          <button type="button" onClick={props.onLook}>
            <Icon name="plate" />
            Show the plate
          </button>
        )}
        <button type="button" onClick={props.onLog}>
          <Icon name="pencil" />
          Tube log
        </button>
      </div>
    </div>
  );
}
