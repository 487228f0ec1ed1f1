import { useEffect, useLayoutEffect, useMemo, useRef, useState } from "preact/hooks";
import type { LightRow } from "../../../report/drawing/laneRow.ts";
import type { Palette } from "../../../report/drawing/palette.ts";
import { type Boundary, boundaries } from "../state/boundary.ts";
import type { Figures } from "../state/figures.ts";
import { useAfterPaint } from "../state/useAfterPaint.ts";
import { arrange, type HungLane } from "./arrange.ts";
import { type MovesProps, useMoves } from "./moves.ts";
import { BoardRow } from "./row.tsx";

export interface BoardProps extends MovesProps {
  readonly figures: Figures;
  readonly palette: Palette;
  readonly lights: readonly LightRow[];
  readonly doubts: readonly number[];
  /** Tubes from which on another eluent ran. */
  readonly eluents: ReadonlyMap<number, string>;
  readonly tube: number | null;
  readonly pool: string | null;
  readonly onTube: (tube: number) => void;
  readonly onPool: (pool: string) => void;
  readonly onLook: (hung: HungLane, light: LightRow) => void;
}

/** Rows that are drawn at once; the others follow when these stand on the screen. */
const FIRST_ROWS = 2;

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
  const painted = useAfterPaint();
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
      {rows.slice(0, painted ? rows.length : FIRST_ROWS).map((row) => (
        <BoardRow
          key={`${row.start}-${row.references.length}`}
          {...{ row, rows, tubes, ends, moves, nameOf, reachable, stripHeight }}
          {...props}
          pools={draft?.pools ?? pools}
        />
      ))}
    </section>
  );
}

function sameEnd(a: Boundary, b: Boundary): boolean {
  return a.left === b.left && a.right === b.right && a.at === b.at;
}
