import { useCallback, useMemo, useRef } from "preact/hooks";
import type { DecidedPool, Result } from "../../../model/index.ts";
import { type Boundary, moveBoundary } from "../state/boundary.ts";
import { type LaidRow, nearestGap, type Row } from "./arrange.ts";
import type { BoundaryMoves } from "./brackets.tsx";

/** A boundary on its way, and the pools as they would be. */
export interface Draft {
  readonly boundary: Boundary;
  readonly to: number;
  readonly pools: readonly DecidedPool[];
}

export interface MovesProps {
  readonly result: Result;
  readonly pools: readonly DecidedPool[];
  readonly draft: Draft | null;
  readonly onDraft: (draft: Draft | null) => void;
  /** The draft is to stand. */
  readonly onSettle: (draft: Draft) => void;
}

/** How long arrow keys must rest until a boundary counts as put there, ms. */
const REST_MS = 900;

/** Drags with a pointer, steps with arrow keys: both make a draft, which stands when it is let go. */
export function useMoves(
  { result, pools, draft, onDraft, onSettle }: MovesProps,
  tubes: readonly number[],
  rows: readonly Row[],
  home: { readonly current: HTMLDivElement | null },
): BoundaryMoves {
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
