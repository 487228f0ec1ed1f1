import type { TubeEntry, TubeNote } from "../model/index.ts";

/** A line of the tube log as it stands. */
export interface LogNote extends TubeNote {
  /** True where a person wrote it on the page or from the command line; false: the run file says it. */
  readonly typed: boolean;
}

/** Volume of a tube that nobody spoke of, mL. Common practice, no source; the bench sheet takes the same. */
export const USUAL_ML = 10;

/**
 * The tube log as it stands: what the run file says, with what a person wrote in its place. Volumes and notes are
 * replaced tube by tube, a change of eluent or flask at the tube where it begins. Where notes overlap, the later counts.
 */
export function writtenOver(notes: readonly TubeNote[], entries: readonly TubeEntry[]): readonly LogNote[] {
  const before: readonly LogNote[] = notes.map((note) => ({ ...note, typed: false }));
  return entries.reduce(written, before);
}

/** The entries as far as they speak of tubes up to `count`: what is said of tubes that are gone waits for them. */
export function entriesUpTo(entries: readonly TubeEntry[], count: number): TubeEntry[] {
  return entries.flatMap((e) => (e.from > count ? [] : [{ ...e, to: Math.min(e.to, count) }]));
}

/**
 * Volume of each tube in mL by the log.
 * @param usualMl volume of a tube of which the log says nothing; null: nobody said, then 10 mL is taken where the log
 *   tells the volume of any tube, and null where it tells of none
 */
export function volumesIn(usualMl: number | null, notes: readonly TubeNote[]): (tube: number) => number | null {
  const told = notes.filter((n) => n.volumeMl !== null);
  const usual = usualMl ?? (told.length > 0 ? USUAL_ML : null);
  return (tube) => told.findLast((n) => tube >= n.from && tube <= n.to)?.volumeMl ?? usual;
}

function written(notes: readonly LogNote[], entry: TubeEntry): readonly LogNote[] {
  const { from, to, volumeMl = null, eluent = null, flask = null, note = null } = entry;
  const left = notes.flatMap((n) => without(n, entry)).filter(saysSomething);
  const own: LogNote = { from, to, volumeMl, eluent, flask, note, typed: true };
  return saysSomething(own) ? [...left, own] : left;
}

/** What is left of a note when an entry takes the place of a part of it, in up to three pieces. */
function without(note: LogNote, entry: TubeEntry): LogNote[] {
  if (entry.to < note.from || entry.from > note.to) return [note];
  const inside = { from: Math.max(note.from, entry.from), to: Math.min(note.to, entry.to) };
  const begins = entry.from === note.from;
  const keepsWhole = entry.volumeMl === undefined && entry.note === undefined;
  const change = {
    eluent: begins && entry.eluent !== undefined ? null : note.eluent,
    flask: begins && entry.flask !== undefined ? null : note.flask,
  };
  if (keepsWhole) return [{ ...note, ...change }];
  const pieces: LogNote[] = [];
  if (inside.from > note.from) pieces.push({ ...note, to: inside.from - 1 });
  pieces.push({
    ...note,
    ...inside,
    volumeMl: entry.volumeMl === undefined ? note.volumeMl : null,
    note: entry.note === undefined ? note.note : null,
  });
  if (inside.to < note.to) pieces.push({ ...note, from: inside.to + 1 });
  // A change of eluent or flask happens once, where the note began.
  return pieces.map((p, i) => ({ ...p, ...(i === 0 ? change : { eluent: null, flask: null }) }));
}

function saysSomething({ volumeMl, eluent, flask, note }: TubeNote): boolean {
  return volumeMl !== null || eluent !== null || flask !== null || note !== null;
}
