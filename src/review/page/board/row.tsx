import type { DecidedPool } from "../../../model/index.ts";
import type { LightRow } from "../../../report/drawing/laneRow.ts";
import type { Palette } from "../../../report/drawing/palette.ts";
import type { Boundary } from "../state/boundary.ts";
import type { Figures } from "../state/figures.ts";
import { tubeWords } from "../state/words.ts";
import { type Column, END, type HungLane, type Row } from "./arrange.ts";
import { type BoundaryMoves, Brackets } from "./brackets.tsx";
import { Strips, Tube } from "./column.tsx";
import { EluentMark } from "./eluentMark.tsx";
import { Scale } from "./scale.tsx";

export interface BoardRowProps {
  readonly row: Row;
  /** All tubes of the board. */
  readonly tubes: readonly number[];
  /** As they are shown: with a boundary that is on its way. */
  readonly pools: readonly DecidedPool[];
  /** Pool of each tube as it stands. */
  readonly nameOf: ReadonlyMap<number, string>;
  readonly ends: readonly Boundary[];
  readonly moves: BoundaryMoves;
  readonly figures: Figures;
  readonly palette: Palette;
  readonly lights: readonly LightRow[];
  readonly stripHeight: number;
  readonly doubts: readonly number[];
  readonly eluents: ReadonlyMap<number, string>;
  readonly tube: number | null;
  readonly pool: string | null;
  /** The tube that the Tab key reaches. */
  readonly reachable: number | undefined;
  readonly onTube: (tube: number) => void;
  readonly onPool: (pool: string) => void;
  readonly onLook: (hung: HungLane, light: LightRow) => void;
}

/** One row: tubes, brackets, lanes; or reference lanes alone. */
export function BoardRow({ row, ...props }: BoardRowProps) {
  const changes = row.columns.filter((c) => props.eluents.has(c.tube!.number));
  return (
    <div
      class={`row${changes.length > 0 ? " changing" : ""}`}
      data-row={row.start}
      style={{ width: `${row.width + END}px` }}
    >
      <div class="tubes" role="group" aria-label={rowWords(row, props.tubes)}>
        {row.columns.length > 0 && (
          <div class="rack" style={{ left: `${row.columns[0].x - 2}px`, right: `${END - 2}px` }} />
        )}
        {changes.map((column, i) => (
          <EluentMark
            key={`eluent ${column.label}`}
            column={column}
            eluent={props.eluents.get(column.tube!.number)!}
            until={changes[i + 1]?.x ?? row.width}
          />
        ))}
        {row.references.map((column) => (
          <span key={keyOf(column)} class="reference" style={{ left: `${column.x}px`, width: `${column.width}px` }}>
            {column.label}
          </span>
        ))}
        {row.columns.map((column) => (
          <Tube
            key={column.label}
            column={column}
            tube={column.tube!}
            palette={props.palette}
            words={tubeWords(column.tube!, props.nameOf.get(column.tube!.number) ?? null)}
            chosen={props.tube === column.tube!.number}
            doubt={props.doubts.includes(column.tube!.number)}
            reachable={props.reachable === column.tube!.number}
            onChoose={props.onTube}
          />
        ))}
      </div>
      {row.columns.length > 0 && (
        <Brackets
          row={row}
          tubes={props.tubes}
          pools={props.pools}
          ends={props.ends}
          figures={props.figures}
          palette={props.palette}
          chosen={props.pool}
          moves={props.moves}
          onChoose={props.onPool}
        />
      )}
      {props.lights.map((light) => (
        <div class="lanes" key={light.name} style={{ height: `${props.stripHeight}px` }}>
          <Scale height={props.stripHeight} width={28} />
          {[...row.references, ...row.columns].map((column) => (
            <Strips
              key={keyOf(column)}
              column={column}
              light={light}
              palette={props.palette}
              height={props.stripHeight}
              chosen={column.tube !== null && props.tube === column.tube.number}
              onLook={props.onLook}
            />
          ))}
          <span class="lightname">{light.name}</span>
        </div>
      ))}
    </div>
  );
}

function keyOf({ place, lanes, label }: Column): string {
  return place >= 0 ? label : lanes.map(({ plate, lane }) => `${plate.id}/${lane.index}`).join();
}

function rowWords(row: Row, tubes: readonly number[]): string {
  return `Tubes ${tubes[row.start]} to ${tubes[row.end - 1]}`;
}
