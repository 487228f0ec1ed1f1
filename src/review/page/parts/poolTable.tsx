import type { DecidedPool } from "../../../model/index.ts";
import { toneChip } from "../../../report/drawing/marks.ts";
import { type Palette, toneOf } from "../../../report/drawing/palette.ts";
import { intervalInWords, numberRanges, percent, volumeInWords } from "../../../report/words.ts";
import { ADDRESS } from "../../api.ts";
import { Accepted } from "../board/brackets.tsx";
import type { Figures } from "../state/figures.ts";
import { Drawn } from "./drawn.tsx";
import { Icon } from "./icon.tsx";

export interface PoolTableProps {
  readonly pools: readonly DecidedPool[];
  readonly figures: Figures;
  readonly palette: Palette;
  readonly chosen: string | null;
  readonly onPool: (name: string) => void;
  readonly onLog: () => void;
}

/** Every pool in a line: what it would be, in figures that follow a bracket while it is dragged. */
export function PoolTable({ pools, figures, palette, chosen, onPool, onLog }: PoolTableProps) {
  return (
    <section class="pools" aria-labelledby="pools-h">
      <h2 id="pools-h">Pools</h2>
      <table>
        <thead>
          <tr>
            <th scope="col">Pool</th>
            <th scope="col">Tubes</th>
            <th scope="col">Holds</th>
            <th scope="col">Purity</th>
            <th scope="col">Recovery</th>
            <th scope="col">Volume</th>
            <th scope="col">Sure</th>
          </tr>
        </thead>
        <tbody>
          {pools.map((pool) => {
            const { kind, components, purity, recovery, volumeMl, confidence } = figures(pool);
            return (
              <tr key={pool.name} class={pool.name === chosen ? "chosen" : ""} data-pool-row={pool.name}>
                <th scope="row">
                  <button
                    type="button"
                    class="link"
                    onClick={() => onPool(pool.name)}
                    aria-pressed={pool.name === chosen}
                  >
                    {pool.accepted && <Accepted />}
                    {pool.name}
                  </button>
                </th>
                <td data-label="Tubes">{numberRanges(pool.fractions)}</td>
                <td data-label="Holds">
                  {components.map((c) => (
                    <span class="nowrap" key={c}>
                      <Drawn svg={toneChip(toneOf(palette, c))} class="chipbox" />
                      {c}{" "}
                    </span>
                  ))}
                  {kind}
                </td>
                <td data-label="Purity">{kind === "empty" ? "–" : intervalInWords(purity)}</td>
                <td data-label="Recovery">{kind === "empty" ? "–" : intervalInWords(recovery)}</td>
                <td data-label="Volume">{volumeInWords(volumeMl) || "–"}</td>
                <td data-label="Sure">{percent(confidence)}</td>
              </tr>
            );
          })}
        </tbody>
      </table>
      <p class="papers">
        <button type="button" onClick={onLog}>
          <Icon name="pencil" />
          Tube log
        </button>
        <a class="sheetlink" href={ADDRESS.sheet} target="_blank" rel="noreferrer">
          Bench sheet of these pools
        </a>{" "}
        <span class="hint">as saved; to print and take along</span>
      </p>
      <p class="hint">
        Purity: share of the main component in all that the plates show. Recovery: share of all of that component that
        is in the pool. Both with a 90 % interval; what no plate shows is in neither.
      </p>
    </section>
  );
}
