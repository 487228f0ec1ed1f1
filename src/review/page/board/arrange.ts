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

/** How far lanes may be widened to fill the row. */
const WIDEST = 1.45;

/** Tubes in the order in which they were filled, cut into rows as even as they come; references lead the first row. */
export function arrange(result: Result, { width, pitch: least, scale }: Room): readonly Row[] {
  const hung = result.plates.flatMap((plate) => plate.lanes.map((lane) => ({ plate, lane })));
  const references = hung.filter(({ lane }) => lane.fraction === null);
  const own = result.fractions.map((tube) => hung.filter(({ lane }) => lane.fraction === tube.number));
  const places = own.reduce((sum, lanes) => sum + Math.max(1, lanes.length), references.length);
  const apart = references.length > 0 ? APART : 0;
  const most = Math.max(least, width - scale - apart);
  const perRow = Math.max(1, Math.floor(most / least));
  const each = Math.ceil(places / Math.ceil(places / perRow));
  const pitch = Math.min(least * WIDEST, most / Math.max(each, Math.min(perRow, 6)));
  const room = pitch * Math.min(perRow, each + 0.5) + apart;
  const leading = references.length * pitch + apart;
  const tubes = result.fractions.map((tube, place) => {
    const lanes = own[place];
    return { tube, label: String(tube.number), lanes, place, width: pitch * Math.max(1, lanes.length) };
  });
  const rows: Row[] = [];
  let at = 0;
  while (at < tubes.length || rows.length === 0) {
    const first = rows.length === 0;
    let x = scale;
    const refs: Column[] = [];
    if (first && leading < room - pitch) {
      for (const lane of references) {
        refs.push({ tube: null, label: lane.lane.label, lanes: [lane], place: -1, x, width: pitch });
        x += pitch;
      }
      if (refs.length > 0) x += APART;
    }
    const columns: Column[] = [];
    const start = at;
    while (at < tubes.length && (columns.length === 0 || x - scale + tubes[at].width <= room + 1e-6)) {
      columns.push({ ...tubes[at], x });
      x += tubes[at].width;
      at++;
    }
    rows.push({ start, end: at, references: refs, columns, width: x });
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

/** The gap between tubes nearest to a point, as the number of tubes before it. */
export function nearestGap(rows: readonly LaidRow[], x: number, y: number): number {
  const away = ({ top, bottom }: LaidRow) => Math.max(0, top - y, y - bottom);
  const laid = rows.reduce((best, r) => (away(r) < away(best) ? r : best));
  const edges = [laid.row.columns[0]?.x ?? 0, ...laid.row.columns.map((c) => c.x + c.width)];
  const distance = (edge: number) => Math.abs(laid.left + edge - x);
  return laid.row.start + edges.reduce((best, edge, i) => (distance(edge) < distance(edges[best]) ? i : best), 0);
}
