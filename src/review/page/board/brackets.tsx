import { useRef } from "preact/hooks";
import type { DecidedPool, ResultPool } from "../../../model/index.ts";
import { type BracketRun, bracketRuns, bracketSvg, isMainPiece } from "../../../report/drawing/bracket.ts";
import type { Palette } from "../../../report/drawing/palette.ts";
import { percent, volumeInWords } from "../../../report/words.ts";
import { Drawn } from "../parts/drawn.tsx";
import { type Boundary, boundaryInWords } from "../state/boundary.ts";
import type { Figures } from "../state/figures.ts";
import type { Row } from "./arrange.ts";

/** What a drag or an arrow key does to a boundary. */
export interface BoundaryMoves {
  /** A pointer has taken hold of it. */
  readonly onGrab: (boundary: Boundary, event: PointerEvent) => void;
  readonly onStep: (boundary: Boundary, by: number) => void;
  readonly onSettle: () => void;
  readonly onLetGo: () => void;
}

export interface BracketsProps {
  readonly row: Row;
  readonly tubes: readonly number[];
  readonly pools: readonly DecidedPool[];
  /** Where the ends are; while one is dragged, that one where it is now. */
  readonly ends: readonly Boundary[];
  readonly figures: Figures;
  readonly palette: Palette;
  readonly chosen: string | null;
  readonly moves: BoundaryMoves;
  readonly onChoose: (pool: string) => void;
}

const BAR_Y = 14;

/** The brackets below one row of tubes: a bar for each pool, a grip at each end, a label to press. */
export function Brackets(props: BracketsProps) {
  const { row, tubes, pools, figures, palette } = props;
  const of = new Map(pools.flatMap((p) => p.fractions.map((n) => [n, p.name] as const)));
  const poolAt = tubes.map((n) => of.get(n) ?? null);
  const allRuns = bracketRuns(poolAt, 0, tubes.length);
  const runs = bracketRuns(poolAt, row.start, row.end);
  const x = (place: number) => xOf(row, place);
  const bars = runs.map((run) => {
    const pool = drawnPool(pools, figures, run);
    const gap = 4;
    return bracketSvg({
      ...run,
      pool,
      x0: x(run.start) + (run.openLeft ? 0 : gap),
      x1: x(run.end) - (run.openRight ? 0 : gap),
      y: BAR_Y,
      palette,
      label: [],
      fontSize: 12,
    });
  });
  const svg = `<svg class="drawing" width="${row.width}" height="44" viewBox="0 0 ${row.width} 44" aria-hidden="true" focusable="false">${bars.join("")}</svg>`;
  return (
    <div class="brackets">
      <Drawn svg={svg} class="bars" />
      {props.ends
        .filter(({ at }) => at > row.start && at <= row.end)
        .map((end) => (
          <Grip
            key={`${end.left}|${end.right}|${end.least}`}
            end={end}
            x={x(end.at)}
            tubes={tubes}
            moves={props.moves}
          />
        ))}
      {runs.map((run) => (
        <Label
          key={`${run.pool}-${run.start}`}
          run={run}
          main={allRuns.filter((r) => r.pool === run.pool).length === 1 || isMainPieceOf(run, allRuns, row)}
          left={x(run.start)}
          width={x(run.end) - x(run.start)}
          pool={pools.find((p) => p.name === run.pool)!}
          figures={figures}
          chosen={props.chosen === run.pool}
          onChoose={props.onChoose}
        />
      ))}
    </div>
  );
}

/** A pool that goes over the end of a row is written in full under its longest piece. */
function isMainPieceOf(run: BracketRun, all: readonly BracketRun[], row: Row): boolean {
  const whole = all.find((r) => r.pool === run.pool && r.start <= run.start && r.end >= run.end);
  if (whole === undefined) return true;
  const here = run.end - run.start;
  const before = Math.max(0, row.start - whole.start);
  const after = Math.max(0, whole.end - row.end);
  return here > before && here >= after && isMainPiece(whole, all);
}

function xOf(row: Row, place: number): number {
  const column = row.columns[place - row.start];
  const last = row.columns.at(-1);
  return column ? column.x : last ? last.x + last.width : 0;
}

/** A decided pool in the shape that the shared drawing takes. */
function drawnPool(pools: readonly DecidedPool[], figures: Figures, run: BracketRun): ResultPool {
  const pool = pools.find((p) => p.name === run.pool)!;
  const { kind, components, purity, confidence, volumeMl } = figures(pool);
  const { name: id, fractions } = pool;
  return { id, fractions, kind, components, purity, confidence, volume_ml: volumeMl, reason: "" };
}

interface GripProps {
  readonly end: Boundary;
  readonly x: number;
  readonly tubes: readonly number[];
  readonly moves: BoundaryMoves;
}

const STEPS: Readonly<Record<string, number>> = { ArrowLeft: -1, ArrowDown: -1, ArrowRight: 1, ArrowUp: 1 };

/** The end of a bracket, to be dragged; arrow keys move it from tube to tube. */
function Grip({ end, x, tubes, moves }: GripProps) {
  const ref = useRef<HTMLDivElement>(null);
  const keyed = (event: KeyboardEvent) => {
    const by = STEPS[event.key];
    if (by !== undefined) {
      event.preventDefault();
      moves.onStep(end, by);
    } else if (event.key === "Enter" || event.key === " ") {
      event.preventDefault();
      moves.onSettle();
    } else if (event.key === "Escape") moves.onLetGo();
  };
  return (
    <div
      ref={ref}
      class="grip"
      style={{ left: `${x}px` }}
      role="slider"
      tabIndex={0}
      aria-label={`End of pool ${end.left}`}
      aria-orientation="horizontal"
      aria-valuemin={end.least === 0 ? 0 : tubes[end.least - 1]}
      aria-valuemax={tubes[end.most - 1]}
      aria-valuenow={end.at === 0 ? 0 : tubes[end.at - 1]}
      aria-valuetext={
        end.at === end.least || end.at === end.most ? "one pool takes in the other" : boundaryInWords(tubes, end)
      }
      data-end={`${end.left}|${end.right}`}
      onPointerDown={(event) => {
        if (event.button !== 0) return;
        event.preventDefault();
        ref.current?.focus();
        ref.current?.setPointerCapture(event.pointerId);
        moves.onGrab(end, event);
      }}
      onKeyDown={keyed}
      onBlur={moves.onSettle}
    >
      <span class="handle" aria-hidden="true" />
    </div>
  );
}

/** A tick for the eye, a word for the ear. */
export function Accepted() {
  return (
    <>
      <span class="tick" aria-hidden="true">
        ✓
      </span>
      <span class="unseen">accepted </span>
    </>
  );
}

interface LabelProps {
  readonly run: BracketRun;
  readonly main: boolean;
  readonly left: number;
  readonly width: number;
  readonly pool: DecidedPool;
  readonly figures: Figures;
  readonly chosen: boolean;
  readonly onChoose: (pool: string) => void;
}

function Label({ run, main, left, width, pool, figures, chosen, onChoose }: LabelProps) {
  const { kind, components, purity, volumeMl } = figures(pool);
  const held = [components.join("+"), kind].filter(Boolean).join(" ");
  const worth = [kind === "empty" ? "" : percent(Math.min(purity.mid, 0.999)), volumeInWords(volumeMl)]
    .filter(Boolean)
    .join(" · ");
  const second = main ? held : run.openLeft ? "continued" : "goes on";
  return (
    <button
      type="button"
      class={`poolname${chosen ? " chosen" : ""}${pool.accepted ? " accepted" : ""}${width > 92 ? "" : " tight"}`}
      style={{ left: `${left + 1}px`, width: `${width - 2}px` }}
      aria-pressed={chosen}
      data-pool={pool.name}
      onClick={() => onChoose(pool.name)}
    >
      <b>
        {pool.accepted && <Accepted />}
        <span class={width > 92 ? "" : "unseen"}>Pool </span>
        {pool.name}
      </b>
      <span>{second}</span>
      {main && <span class={width > 92 ? "" : "unseen"}>{worth}</span>}
    </button>
  );
}
