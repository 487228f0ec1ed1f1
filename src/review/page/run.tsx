import { useCallback, useMemo, useRef, useState } from "preact/hooks";
import { acceptPools, type Divided, type TypedEntry } from "../../decisions/index.ts";
import type { Act, Contradiction, Mending, Result } from "../../model/index.ts";
import type { LightRow } from "../../report/drawing/laneRow.ts";
import { lightRows } from "../../report/drawing/lights.ts";
import { paletteOf } from "../../report/drawing/palette.ts";
import { cautionsSection } from "../../report/sections/cautions.ts";
import type { HungLane } from "./board/arrange.ts";
import { Board } from "./board/board.tsx";
import type { Draft } from "./board/moves.ts";
import { Dock } from "./dock/dock.tsx";
import { Hand } from "./dock/hand.tsx";
import { LogSheet } from "./log/logSheet.tsx";
import { Components } from "./parts/components.tsx";
import { Drawn } from "./parts/drawn.tsx";
import { Notices } from "./parts/notices.tsx";
import { Photos } from "./parts/photos.tsx";
import { PoolTable } from "./parts/poolTable.tsx";
import { type Looking, PlateView } from "./plate/plateView.tsx";
import type { Desk } from "./state/desk.ts";
import { eluentChanges } from "./state/eluents.ts";
import { figuresOf } from "./state/figures.ts";
import { allAccepted, nextDoubt, openDoubts, shownPools } from "./state/shown.ts";

export type InHand = { readonly tube: number } | { readonly pool: string } | null;

export interface RunProps {
  readonly view: Desk["view"];
  readonly result: Result;
  readonly inHand: InHand;
  readonly setInHand: (inHand: InHand) => void;
  readonly draft: Draft | null;
  readonly setDraft: (draft: Draft | null) => void;
  readonly asking: boolean;
  readonly setAsking: (asking: boolean) => void;
  readonly looking: Looking | null;
  readonly setLooking: (looking: Looking | null) => void;
  readonly act: (act: Act) => void;
  readonly onForgive: () => void;
  readonly onRetry: () => void;
  /** Something is about to be mended so; null: not any more. */
  readonly onAhead: (mending: Mending | null) => void;
}

/** A run that was read: the board, what is in hand, pools, photos. */
export function Run(props: RunProps) {
  const { view, result, inHand, setInHand, draft, setDraft, setAsking, setLooking, act } = props;
  const { state, keeping } = view;
  const typedEntry = useRef<TypedEntry | null>(null);
  const [log, setLog] = useState<{ readonly about: number | null } | null>(null);
  const pools = useMemo(() => shownPools(state, keeping.waiting), [state, keeping.waiting]);
  const letters = result.components.map((c) => c.id).join();
  const palette = useMemo(() => paletteOf(letters === "" ? [] : letters.split(",")), [letters]);
  const lights = useMemo(() => lightRows(state.platePictures), [state.platePictures]);
  const figures = useMemo(() => figuresOf(state), [state]);
  const doubts = useMemo(() => openDoubts(state, pools), [state, pools]);
  const eluents = useMemo(() => eluentChanges(state.tubeLog.notes), [state.tubeLog.notes]);
  const tubes = useMemo(() => result.fractions.map((f) => f.number), [result]);
  const tube = inHand && "tube" in inHand ? inHand.tube : null;
  const pool = inHand && "pool" in inHand ? inHand.pool : null;
  const divide = useCallback(({ done, pools }: Divided) => act({ kind: "divide", done, pools }), [act]);
  const settle = useCallback(
    ({ boundary, pools, to }: Draft) => {
      setDraft(null);
      divide({ done: to === boundary.least || to === boundary.most ? "merge" : "boundary", pools });
    },
    [divide, setDraft],
  );
  const mend = useCallback((mending: Mending) => act({ kind: "mend", mending }), [act]);
  const look = useCallback(
    ({ plate, lane }: HungLane, light: LightRow) => {
      const picture = state.platePictures.find(
        (p) => p.plate === plate.id && p.light === light.light && light.name.includes(p.stain ?? ""),
      );
      setLooking({ plate: plate.id, lane: lane.index, file: picture?.file ?? null, whole: false });
    },
    [state.platePictures, setLooking],
  );
  const chooseTube = useCallback((number: number) => setInHand({ tube: number }), [setInHand]);
  const choosePool = useCallback((name: string) => setInHand({ pool: name }), [setInHand]);
  const keepAsDecided = (c: Contradiction) =>
    divide(
      acceptPools(result, pools, c.pool === null ? pools.filter((p) => !p.accepted).map((p) => p.name) : [c.pool]),
    );
  const shown = draft?.pools ?? pools;
  return (
    <>
      <main>
        <Notices
          state={state}
          keeping={keeping}
          onForgive={props.onForgive}
          onKeep={keepAsDecided}
          onTube={chooseTube}
        />
        <Components components={result.components} palette={palette} onMend={mend} />
        <Board
          {...{ result, pools, figures, palette, lights, doubts, eluents, tube, pool, draft }}
          onDraft={setDraft}
          onSettle={settle}
          onTube={chooseTube}
          onPool={choosePool}
          onLook={look}
        />
        <PoolTable
          pools={shown}
          figures={figures}
          palette={palette}
          chosen={pool}
          onPool={choosePool}
          onLog={() => setLog({ about: tube })}
        />
        {shown.some((p) => figures(p).kind === "clean") && (
          <p class="proof">
            Clean means that one spot is all these plates show. <b>One spot is never proof of purity</b>: confirm by
            NMR, HPLC or another method before you rely on it.
          </p>
        )}
        <Photos state={state} palette={palette} onLook={(file) => setLooking(lookAtPhoto(result, file))} />
        <details class="care">
          <summary>Cautions</summary>
          <Drawn svg={cautionsSection().text} class="cautionbox" />
        </details>
      </main>
      <Dock
        doubts={doubts.length}
        accepted={allAccepted(pools)}
        busy={state.reading.busy}
        asking={props.asking}
        onNextDoubt={() => {
          const next = nextDoubt(doubts, tube);
          if (next !== null) setInHand({ tube: next });
        }}
        onAcceptAll={() => {
          setAsking(false);
          divide(acceptPools(result, pools, null));
        }}
        onAsk={setAsking}
      >
        <Hand
          {...{ state, result, pools, draft, tube, pool, tubes, figures, palette, divide }}
          onClose={() => setInHand(null)}
          onPool={choosePool}
          onLook={setLooking}
          onLog={(about) => setLog({ about })}
        />
      </Dock>
      {log && (
        <LogSheet
          {...{ state, keeping, tubes }}
          about={log.about}
          draft={typedEntry}
          onWrite={(entry) => act({ kind: "log", entry })}
          onRetry={props.onRetry}
          onClose={() => setLog(null)}
        />
      )}
      {props.looking && (
        <PlateView
          state={state}
          looking={props.looking}
          palette={palette}
          busy={keeping.waiting.length > 0 || state.catchingUp}
          refused={keeping.refused}
          onLook={setLooking}
          onMend={mend}
          onAhead={props.onAhead}
          onClose={() => setLooking(null)}
        />
      )}
    </>
  );
}

function lookAtPhoto(result: Result, file: string): Looking | null {
  const plate = result.photos.find((p) => p.file === file)?.plates[0];
  return plate === undefined ? null : { plate, file, lane: null, whole: true };
}
