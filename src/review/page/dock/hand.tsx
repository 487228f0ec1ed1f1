import {
  acceptPools,
  type Divided,
  mergePools,
  moveTubes,
  namePool,
  reopenPools,
  splitPool,
} from "../../../decisions/index.ts";
import type { DecidedPool, Result } from "../../../model/index.ts";
import type { paletteOf } from "../../../report/drawing/palette.ts";
import type { Draft } from "../board/moves.ts";
import { PoolInHand, Worth } from "../dock/poolInHand.tsx";
import { TubeInHand } from "../dock/tubeInHand.tsx";
import { loggedInWords } from "../log/logLines.tsx";
import type { Looking } from "../plate/plateView.tsx";
import type { Desk } from "../state/desk.ts";
import type { figuresOf } from "../state/figures.ts";
import { poolOfTube } from "../state/shown.ts";

export interface HandProps {
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
  readonly onLog: (tube: number) => void;
  readonly onClose: () => void;
}

/** What the dock says: the two pools at a boundary on its way, the tube or the pool in hand, or what to do. */
export function Hand({
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
  onLog,
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
        logged={loggedInWords(state.tubeLog.notes, fraction.number)}
        onLog={() => onLog(fraction.number)}
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
