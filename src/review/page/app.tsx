import { useCallback, useEffect, useMemo, useState } from "preact/hooks";
import {
  acceptPools,
  type Divided,
  mergePools,
  moveTubes,
  namePool,
  reopenPools,
  splitPool,
} from "../../decisions/index.ts";
import type { Act, Contradiction, DecidedPool, Mending, Result } from "../../model/index.ts";
import type { LightRow } from "../../report/drawing/laneRow.ts";
import { lightRows } from "../../report/drawing/lights.ts";
import { paletteOf } from "../../report/drawing/palette.ts";
import { cautionsSection } from "../../report/sections/cautions.ts";
import type { HungLane } from "./board/arrange.ts";
import { Board, type Draft } from "./board/board.tsx";
import { Dock } from "./dock/dock.tsx";
import { PoolInHand, Worth } from "./dock/poolInHand.tsx";
import { TubeInHand } from "./dock/tubeInHand.tsx";
import { Components } from "./parts/components.tsx";
import { Drawn } from "./parts/drawn.tsx";
import { Header } from "./parts/header.tsx";
import { History } from "./parts/history.tsx";
import { Notices } from "./parts/notices.tsx";
import { Photos } from "./parts/photos.tsx";
import { PoolTable } from "./parts/poolTable.tsx";
import { type Looking, PlateView } from "./plate/plateView.tsx";
import type { Desk } from "./state/desk.ts";
import { figuresOf } from "./state/figures.ts";
import { allAccepted, nextDoubt, openDoubts, poolOfTube, shownPools } from "./state/shown.ts";
import { useView } from "./state/useView.ts";

type InHand = { readonly tube: number } | { readonly pool: string } | null;

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
  const undo =
    state.undo !== null && keeping.waiting.length === 0 ? () => act({ kind: "undo", of: state.undo! }) : null;
  const redo =
    state.redo !== null && keeping.waiting.length === 0 ? () => act({ kind: "redo", of: state.redo! }) : null;
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
          <p class="nothing">
            {state.reading.busy
              ? "The photos are being read. The tubes appear here as soon as that is done."
              : "No plate has been read yet. Put photos of your plates into the run folder."}
          </p>
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
      />
      {sheets}
    </>
  );
}

interface RunProps {
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
}

/** A run that was read: the board, what is in hand, pools, photos. */
function Run(props: RunProps) {
  const { view, result, inHand, setInHand, draft, setDraft, setAsking, setLooking, act } = props;
  const { state, keeping } = view;
  const pools = useMemo(() => shownPools(state, keeping.waiting), [state, keeping.waiting]);
  const palette = useMemo(() => paletteOf(result.components.map((c) => c.id)), [result]);
  const lights = useMemo(() => lightRows(state.platePictures), [state.platePictures]);
  const figures = useMemo(() => figuresOf(state), [state]);
  const doubts = useMemo(() => openDoubts(state, pools), [state, pools]);
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
          {...{ result, pools, figures, palette, lights, doubts, tube, pool, draft }}
          onDraft={setDraft}
          onSettle={settle}
          onTube={chooseTube}
          onPool={choosePool}
          onLook={look}
        />
        <PoolTable pools={shown} figures={figures} palette={palette} chosen={pool} onPool={choosePool} />
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
        />
      </Dock>
      {props.looking && (
        <PlateView
          state={state}
          looking={props.looking}
          palette={palette}
          busy={keeping.waiting.length > 0 || state.catchingUp}
          refused={keeping.refused}
          onLook={setLooking}
          onMend={mend}
          onClose={() => setLooking(null)}
        />
      )}
    </>
  );
}

interface HandProps {
  readonly state: Desk["view"]["state"];
  readonly result: Result;
  readonly pools: readonly DecidedPool[];
  readonly draft: Draft | null;
  readonly tube: number | null;
  readonly pool: string | null;
  readonly tubes: readonly number[];
  readonly figures: ReturnType<typeof figuresOf>;
  readonly palette: ReturnType<typeof paletteOf>;
  readonly divide: (divided: Divided) => void;
  readonly onPool: (pool: string) => void;
  readonly onLook: (looking: Looking) => void;
  readonly onClose: () => void;
}

/** What the dock says: the two pools at a boundary on its way, the tube or the pool in hand, or what to do. */
function Hand({
  state,
  result,
  pools,
  draft,
  tube,
  pool,
  tubes,
  figures,
  palette,
  divide,
  onPool,
  onLook,
  onClose,
}: HandProps) {
  if (draft !== null) {
    const touched = draft.pools.filter((p) => p.name === draft.boundary.left || p.name === draft.boundary.right);
    return (
      <div class="draft" data-in-hand="boundary">
        {touched.map((p) => (
          <div class="card" key={p.name}>
            <div class="cardhead">
              <h2>Pool {p.name}</h2>
              <span>
                {p.fractions.length} tube{p.fractions.length === 1 ? "" : "s"} ·{" "}
                {[figures(p).components.join(" + "), figures(p).kind].filter(Boolean).join(" ")}
              </span>
            </div>
            <Worth judged={figures(p)} />
          </div>
        ))}
      </div>
    );
  }
  const fraction = result.fractions.find((f) => f.number === tube);
  const at = tubes.indexOf(tube ?? Number.NaN);
  const own = tube === null ? null : poolOfTube(pools, tube);
  if (fraction && own) {
    const neighbour = (by: number) => {
      const other = tubes[at + by] === undefined ? null : poolOfTube(pools, tubes[at + by]);
      return other?.name === own.name ? null : other;
    };
    const hung = result.plates
      .flatMap((plate) => plate.lanes.map((lane) => ({ plate, lane })))
      .find(({ lane }) => lane.fraction === tube);
    return (
      <TubeInHand
        tube={fraction}
        pool={own}
        before={neighbour(-1)}
        after={neighbour(1)}
        contradiction={state.contradictions.find((c) => c.fraction === tube)?.message ?? null}
        palette={palette}
        onSplit={
          own.fractions[0] === fraction.number
            ? null
            : () => divide(splitPool(result, pools, own.name, fraction.number))
        }
        onMove={(to) => divide(moveTubes(result, pools, [fraction.number], to))}
        onLook={hung ? () => onLook({ plate: hung.plate.id, lane: hung.lane.index, file: null, whole: false }) : null}
        onClose={onClose}
      />
    );
  }
  const chosen = pools.find((p) => p.name === pool);
  if (chosen) {
    const order = pools.indexOf(chosen);
    return (
      <PoolInHand
        key={chosen.name}
        pool={chosen}
        judged={figures(chosen)}
        before={pools[order - 1] ?? null}
        after={pools[order + 1] ?? null}
        onName={(to) => {
          if (!pools.some((p) => p !== chosen && p.name.toLowerCase() === to.toLowerCase())) onPool(to);
          divide(namePool(pools, chosen.name, to));
        }}
        onAccept={() => divide(acceptPools(result, pools, [chosen.name]))}
        onReopen={() => divide(reopenPools(pools, [chosen.name]))}
        onJoin={(other) => {
          const inOrder = pools.filter((p) => p === chosen || p.name === other).map((p) => p.name);
          onPool(inOrder[0]);
          divide(mergePools(result, pools, inOrder));
        }}
        onClose={onClose}
      />
    );
  }
  return (
    <p class="idle">
      Drag the end of a bracket to move tubes between pools. Press a tube or a pool to take it in hand, a lane to see
      its plate.
    </p>
  );
}

function lookAtPhoto(result: Result, file: string): Looking | null {
  const plate = result.photos.find((p) => p.file === file)?.plates[0];
  return plate === undefined ? null : { plate, file, lane: null, whole: true };
}

/** Ctrl+Z and Ctrl+Y (or Ctrl+Shift+Z), except while something is being typed. */
function useShortcuts(undo: (() => void) | null, redo: (() => void) | null): void {
  useEffect(() => {
    const pressed = (event: KeyboardEvent) => {
      if (!(event.ctrlKey || event.metaKey) || event.altKey || event.target instanceof HTMLInputElement) return;
      const key = event.key.toLowerCase();
      const does = key === "y" || (key === "z" && event.shiftKey) ? redo : key === "z" ? undo : undefined;
      if (does === undefined) return;
      event.preventDefault();
      does?.();
    };
    addEventListener("keydown", pressed);
    return () => removeEventListener("keydown", pressed);
  }, [undo, redo]);
}
