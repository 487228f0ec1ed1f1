import type { Result, ResultFraction, ResultLane, ResultPlate } from "../../../model/index.ts";

/** A lane as it hangs below its tube. */
export interface HungLane {
  readonly plate: ResultPlate;
  readonly lane: ResultLane;
}

/** One place of the board: a tube with all lanes that carry it, or a reference lane. */
export interface Column {
  readonly tube: ResultFraction | null;
  readonly label: string;
  readonly lanes: readonly HungLane[];
  /** Place among the tubes; -1 for a reference. */
  readonly place: number;
  /** Left edge and width, CSS pixels within the row. */
  readonly x: number;
  readonly width: number;
}

/** A row of the board: tubes `start` up to, not including, `end`. */
export interface Row {
  readonly start: number;
  readonly end: number;
  readonly references: readonly Column[];
  readonly columns: readonly Column[];
  readonly width: number;
}

export interface Room {
  /** Width that is there, CSS pixels. */
  readonly width: number;
  /** Width of one lane's place. */
  readonly pitch: number;
  /** Room for the Rf scale at the left. */
  readonly scale: number;
}

/** Room between the reference lanes and the tubes. */
const APART = 14;

/** Room for the grip at the end of a row: half of it stands out. */
export const END = 24;
/** How far lanes may be widened to fill the row. */
const WIDEST = 1.45;
/** References that take more of the first row than this stand in rows of their own, below the tubes. */
const MOST_LEADING = 0.35;

/** Tubes in the order in which they were filled, cut into rows as even as they come, with the reference lanes. */
export function arrange(result: Result, { width, pitch: least, scale }: Room): readonly Row[] {
  const hung = result.plates.flatMap((plate) => plate.lanes.map((lane) => ({ plate, lane })));
  const references = hung.filter(({ lane }) => lane.fraction === null);
  const lanesOf = result.fractions.map((f) => hung.filter(({ lane }) => lane.fraction === f.number));
  const places = lanesOf.reduce((sum, lanes) => sum + Math.max(1, lanes.length), 0);
  const most = Math.max(least, width - scale - END);
  const leads = references.length * least + APART <= most * MOST_LEADING;
  const leading = leads ? references.length : 0;
  const apart = leading > 0 ? APART : 0;
  const perRow = Math.max(1, Math.floor((most - apart) / least));
  const each = Math.ceil((places + leading) / Math.ceil((places + leading) / perRow));
  const pitch = Math.min(least * WIDEST, (most - apart) / Math.max(each, Math.min(perRow, 6)));
  const room = scale + pitch * Math.min(perRow, each + 0.5) + apart + 1e-6;

  const rows: Row[] = [];
  const standing = (lanes: readonly HungLane[], x: number) =>
    lanes.map((lane, i) => ({
      tube: null,
      label: lane.lane.label,
      lanes: [lane],
      place: -1,
      x: x + i * pitch,
      width: pitch,
    }));
  let at = 0;
  while (at < result.fractions.length) {
    const first = at === 0;
    const refs = first ? standing(references.slice(0, leading), scale) : [];
    let x = scale + (refs.length > 0 ? refs.length * pitch + apart : 0);
    const columns: Column[] = [];
    const start = at;
    while (at < result.fractions.length) {
      const own = pitch * Math.max(1, lanesOf[at].length);
      if (columns.length > 0 && x + own > room) break;
      const tube = result.fractions[at];
      columns.push({ tube, label: String(tube.number), lanes: lanesOf[at], place: at, x, width: own });
      x += own;
      at++;
    }
    rows.push({ start, end: at, references: refs, columns, width: x });
  }
  for (let i = leading; i < references.length; i += perRow) {
    const refs = standing(references.slice(i, i + perRow), scale);
    rows.push({ start: at, end: at, references: refs, columns: [], width: scale + refs.length * pitch });
  }
  return rows;
}

/** A row as it lies on the screen. */
export interface LaidRow {
  readonly row: Row;
  readonly left: number;
  readonly top: number;
  readonly bottom: number;
}

/** The gap between tubes nearest to a point, as the number of tubes before it; there is one row of tubes at least. */
export function nearestGap(rows: readonly LaidRow[], x: number, y: number): number {
  const away = ({ top, bottom }: LaidRow) => Math.max(0, top - y, y - bottom);
  const withTubes = rows.filter(({ row }) => row.columns.length > 0);
  const laid = withTubes.reduce((best, r) => (away(r) < away(best) ? r : best));
  const edges = [laid.row.columns[0]?.x ?? 0, ...laid.row.columns.map((c) => c.x + c.width)];
  const distance = (edge: number) => Math.abs(laid.left + edge - x);
  return laid.row.start + edges.reduce((best, edge, i) => (distance(edge) < distance(edges[best]) ? i : best), 0);
}
