import { useCallback, useEffect, useLayoutEffect, useMemo, useRef, useState } from "preact/hooks";
import type { DecidedPool, Result } from "../../../model/index.ts";
import type { LightRow } from "../../../report/drawing/laneRow.ts";
import type { Palette } from "../../../report/drawing/palette.ts";
import { type Boundary, boundaries, moveBoundary } from "../state/boundary.ts";
import type { Figures } from "../state/figures.ts";
import { tubeWords } from "../state/words.ts";
import { arrange, type HungLane, type LaidRow, nearestGap, type Row } from "./arrange.ts";
import { Brackets } from "./brackets.tsx";
import { Strips, Tube } from "./column.tsx";
import { Scale } from "./scale.tsx";

/** A boundary on its way, and the pools as they would be. */
export interface Draft {
  readonly boundary: Boundary;
  readonly to: number;
  readonly pools: readonly DecidedPool[];
}

export interface BoardProps {
  readonly result: Result;
  readonly pools: readonly DecidedPool[];
  readonly figures: Figures;
  readonly palette: Palette;
  readonly lights: readonly LightRow[];
  readonly doubts: readonly number[];
  readonly tube: number | null;
  readonly pool: string | null;
  readonly draft: Draft | null;
  readonly onDraft: (draft: Draft | null) => void;
  /** The draft is to stand. */
  readonly onSettle: (draft: Draft) => void;
  readonly onTube: (tube: number) => void;
  readonly onPool: (pool: string) => void;
  readonly onLook: (hung: HungLane, light: LightRow) => void;
}

/** How long arrow keys must rest until a boundary counts as put there, ms. */
const REST_MS = 900;

/** The tubes as they stand, in rows: tube, bracket, and the lanes that the decision rests on. */
export function Board(props: BoardProps) {
  const { result, pools, draft } = props;
  const home = useRef<HTMLDivElement>(null);
  const [width, setWidth] = useState(0);
  useLayoutEffect(() => {
    const element = home.current!;
    setWidth(element.clientWidth);
    const observer = new ResizeObserver(() => setWidth(element.clientWidth));
    observer.observe(element);
    return () => observer.disconnect();
  }, []);
  const narrow = width < 560;
  const rows = useMemo(
    () => (width === 0 ? [] : arrange(result, { width, pitch: narrow ? 46 : width < 1000 ? 52 : 56, scale: 28 })),
    [result, width, narrow],
  );
  const stripHeight = narrow ? 168 : props.lights.length > 1 ? 178 : 220;
  const tubes = useMemo(() => result.fractions.map((f) => f.number), [result]);
  const settled = useMemo(() => boundaries(tubes, pools), [tubes, pools]);
  const moves = useMoves(props, tubes, rows, home);
  const ends = draft ? settled.map((end) => (sameEnd(end, draft.boundary) ? { ...end, at: draft.to } : end)) : settled;
  const shown = draft?.pools ?? pools;
  const nameOf = useMemo(() => new Map(pools.flatMap((p) => p.fractions.map((n) => [n, p.name] as const))), [pools]);
  const reachable = props.tube ?? tubes[0];

  useEffect(() => {
    if (props.tube === null) return;
    home.current?.querySelector(`[data-tube="${props.tube}"]`)?.scrollIntoView({ block: "nearest", inline: "nearest" });
  }, [props.tube]);

  const keyed = (event: KeyboardEvent) => {
    const on = (event.target as HTMLElement).closest<HTMLElement>("[data-tube]")?.dataset["tube"];
    const by = { ArrowLeft: -1, ArrowRight: 1, Home: -tubes.length, End: tubes.length }[event.key];
    if (on === undefined || by === undefined) return;
    event.preventDefault();
    const place = Math.min(tubes.length - 1, Math.max(0, tubes.indexOf(Number(on)) + by));
    props.onTube(tubes[place]);
    home.current?.querySelector<HTMLElement>(`button[data-tube="${tubes[place]}"]`)?.focus();
  };

  return (
    <section class="board" ref={home} aria-label="Tubes, pools and lanes" onKeyDown={keyed}>
      {rows.map((row) => (
        <div class="row" key={row.start} data-row={row.start} style={{ width: `${row.width}px` }}>
          <div class="tubes" role="group" aria-label={rowWords(row, tubes)}>
            <div class="rack" style={{ left: `${(row.columns[0]?.x ?? 0) - 2}px` }} />
            {row.references.map((column) => (
              <span key={column.label} class="reference" style={{ left: `${column.x}px`, width: `${column.width}px` }}>
                {column.label}
              </span>
            ))}
            {row.columns.map((column) => (
              <Tube
                key={column.label}
                column={column}
                tube={column.tube!}
                palette={props.palette}
                words={tubeWords(column.tube!, nameOf.get(column.tube!.number) ?? null)}
                chosen={props.tube === column.tube!.number}
                doubt={props.doubts.includes(column.tube!.number)}
                reachable={reachable === column.tube!.number}
                onChoose={props.onTube}
              />
            ))}
          </div>
          <Brackets
            row={row}
            tubes={tubes}
            pools={shown}
            ends={ends}
            figures={props.figures}
            palette={props.palette}
            chosen={props.pool}
            moves={moves}
            onChoose={props.onPool}
          />
          {props.lights.map((light) => (
            <div class="lanes" key={light.name} style={{ height: `${stripHeight}px` }}>
              <Scale height={stripHeight} width={28} />
              {[...row.references, ...row.columns].map((column) => (
                <Strips
                  key={`${column.place}-${column.label}`}
                  column={column}
                  light={light}
                  palette={props.palette}
                  height={stripHeight}
                  chosen={column.tube !== null && props.tube === column.tube.number}
                  onLook={props.onLook}
                />
              ))}
              <span class="lightname">{light.name}</span>
            </div>
          ))}
        </div>
      ))}
    </section>
  );
}

function sameEnd(a: Boundary, b: Boundary): boolean {
  return a.left === b.left && a.right === b.right && a.at === b.at;
}

function rowWords(row: Row, tubes: readonly number[]): string {
  return `Tubes ${tubes[row.start]} to ${tubes[row.end - 1]}`;
}

/** Drags with a pointer, steps with arrow keys: both make a draft, which stands when it is let go. */
function useMoves(
  { result, pools, draft, onDraft, onSettle }: BoardProps,
  tubes: readonly number[],
  rows: readonly Row[],
  home: { readonly current: HTMLDivElement | null },
) {
  const now = useRef({ result, pools, draft, tubes, rows, onDraft, onSettle });
  now.current = { result, pools, draft, tubes, rows, onDraft, onSettle };
  const rest = useRef<number | undefined>(undefined);
  const take = useCallback((boundary: Boundary, to: number) => {
    const { result, pools, tubes, draft } = now.current;
    const place = Math.min(boundary.most, Math.max(boundary.least, to));
    if (draft?.to === place) return;
    const next = { boundary, to: place, pools: moveBoundary(result, tubes, pools, boundary, place) };
    now.current.draft = next;
    now.current.onDraft(next);
  }, []);
  const settle = useCallback(() => {
    clearTimeout(rest.current);
    const { draft } = now.current;
    if (draft === null) return;
    now.current.draft = null;
    if (draft.to === draft.boundary.at) now.current.onDraft(null);
    else now.current.onSettle(draft);
  }, []);
  const letGo = useCallback(() => {
    clearTimeout(rest.current);
    now.current.draft = null;
    now.current.onDraft(null);
  }, []);
  return useMemo(
    () => ({
      onGrab(boundary: Boundary, event: PointerEvent) {
        const grip = event.currentTarget as HTMLElement;
        const { pointerId } = event;
        const move = (e: PointerEvent) => {
          if (e.pointerId === pointerId)
            take(boundary, nearestGap(laid(home.current!, now.current.rows), e.clientX, e.clientY));
        };
        const end = (e: PointerEvent) => {
          if (e.pointerId !== pointerId) return;
          for (const [name, listener] of listeners) grip.removeEventListener(name, listener as EventListener);
          if (e.type === "pointerup") settle();
          else letGo();
        };
        const listeners = [
          ["pointermove", move],
          ["pointerup", end],
          ["pointercancel", end],
        ] as const;
        for (const [name, listener] of listeners) grip.addEventListener(name, listener as EventListener);
      },
      onStep(boundary: Boundary, by: number) {
        const base = now.current.draft?.boundary ?? boundary;
        take(base, (now.current.draft?.to ?? base.at) + by);
        clearTimeout(rest.current);
        rest.current = setTimeout(settle, REST_MS) as unknown as number;
      },
      onSettle: settle,
      onLetGo: letGo,
    }),
    [take, settle, letGo, home],
  );
}

/** Where the rows lie on the screen now. */
function laid(home: HTMLElement, rows: readonly Row[]): LaidRow[] {
  return [...home.querySelectorAll<HTMLElement>(".row")].map((element, i) => {
    const { left, top, bottom } = element.getBoundingClientRect();
    return { row: rows[i], left, top, bottom };
  });
}
