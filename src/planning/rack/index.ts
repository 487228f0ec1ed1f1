import type { RackLayout } from "../../model/index.ts";

/** Place of a tube in a rack: row from the top, column from the left, both from 0. */
export interface RackPlace {
  readonly rack: number;
  readonly row: number;
  readonly column: number;
}

function mirrored(rack: RackLayout, place: RackPlace): RackPlace {
  const row = rack.start.startsWith("bottom") ? rack.rows - 1 - place.row : place.row;
  const column = rack.start.endsWith("right") ? rack.columns - 1 - place.column : place.column;
  return { rack: place.rack, row, column };
}

/** Where tube `number` (from 1) stands, the rack being filled as it says; beyond the first rack in the next one (from 0). */
export function tubePlace(rack: RackLayout, number: number): RackPlace {
  const room = rack.rows * rack.columns;
  const index = (number - 1) % room;
  const byColumns = rack.fill.startsWith("columns");
  const length = byColumns ? rack.rows : rack.columns;
  const line = Math.floor(index / length);
  const along = index % length;
  const turned = rack.fill.endsWith("serpentine") && line % 2 === 1 ? length - 1 - along : along;
  const [row, column] = byColumns ? [turned, line] : [line, turned];
  return mirrored(rack, { rack: Math.floor((number - 1) / room), row, column });
}

/** Number of the tube at a place, the inverse of `tubePlace`; null outside the rack. */
export function tubeAt(rack: RackLayout, place: RackPlace): number | null {
  if (place.row < 0 || place.row >= rack.rows || place.column < 0 || place.column >= rack.columns) return null;
  const { row, column } = mirrored(rack, place);
  const byColumns = rack.fill.startsWith("columns");
  const [line, at, length] = byColumns ? [column, row, rack.rows] : [row, column, rack.columns];
  const along = rack.fill.endsWith("serpentine") && line % 2 === 1 ? length - 1 - at : at;
  return place.rack * rack.rows * rack.columns + line * length + along + 1;
}

/** A rack that holds `count` tubes where nobody said which one it is: rows of ten at most, filled row by row. */
export function usualRack(count: number): RackLayout {
  const columns = Math.min(10, Math.max(1, count));
  return { rows: Math.ceil(count / columns), columns, fill: "rows", start: "top-left" };
}
