import type { LogNote } from "../decisions/tubeLog.ts";
import type { Act, Contradiction, Division, JournalLine, Light, Result } from "../model/index.ts";

/** Addresses of the review server, all below its root. */
export const ADDRESS = {
  state: "/state",
  act: "/act",
  /** Takes an act that may be about to come: nothing is kept of it, but its reading begins. */
  ahead: "/ahead",
  events: "/events",
  picture: "/picture",
  original: "/original",
  sheet: "/sheet",
} as const;

/** Name of the event that says that there is a newer state. */
export const NEWS = "news";

/** A picture that the page may ask for: the address changes when the picture does. */
export interface PagePicture {
  readonly href: string;
  /** Pixels. */
  readonly width: number;
  readonly height: number;
}

/** A plate with its perspective undone, as one of its photos shows it. */
export interface PagePlatePicture extends PagePicture {
  readonly plate: string;
  readonly file: string;
  readonly light: Light;
  readonly stain: string | null;
}

/** A whole photo, upright and shrunk. */
export interface PagePhoto extends PagePicture {
  readonly file: string;
}

/** How far reading has come. */
export interface ReadingProgress {
  readonly busy: boolean;
  readonly done: number;
  readonly of: number;
  /** Photos that are still arriving. */
  readonly arriving: readonly string[];
  /** Why nothing can be read at all (a wrong run file, say); null where it can. */
  readonly fault: string | null;
}

/** A line of the journal in words. */
export interface HistoryEntry {
  readonly id: number;
  /** ISO 8601. */
  readonly at: string;
  readonly words: string;
  /** False where it was taken back. */
  readonly stands: boolean;
}

/** All that the page shows. */
export interface PageState {
  /** Rises with every change. */
  readonly revision: number;
  /** Last name of the run folder. */
  readonly folder: string;
  readonly result: Result | null;
  /** While the folder is read for the first time, what of it has been read; no tube and no component yet. */
  readonly soFar: Result | null;
  /** Photos of the folder, in its order, while it is read for the first time; then none. */
  readonly expected: readonly string[];
  /** Volume of each of the result's tubes, in their order; null where nobody said. */
  readonly volumesMl: readonly (number | null)[];
  readonly tubeLog: {
    /** Volume of a tube of which the log says nothing, mL; null: nobody said. */
    readonly usualMl: number | null;
    /** As it stands: the run file's, with what was written here in its place. */
    readonly notes: readonly LogNote[];
  };
  readonly platePictures: readonly PagePlatePicture[];
  readonly photos: readonly PagePhoto[];
  /** Id of the journal's last line; an act is decided on it. */
  readonly last: number;
  readonly division: Division | null;
  readonly contradictions: readonly Contradiction[];
  readonly undo: number | null;
  readonly redo: number | null;
  /** Oldest first. */
  readonly history: readonly HistoryEntry[];
  /** What is wrong with the journal, one line each. */
  readonly journalFaults: readonly string[];
  /** Why nothing can be decided (a journal of a foreign format, say); null where it can. */
  readonly shut: string | null;
  /** True where an act was kept, but what follows from it for the reading is still being worked out. */
  readonly catchingUp: boolean;
  readonly reading: ReadingProgress;
}

/** An act to be kept, and the journal's last line that the person had seen. */
export interface ActRequest {
  readonly last: number;
  readonly act: Act;
}

/** What became of an act: on disk, or not and why. */
export type ActAnswer =
  | { readonly saved: JournalLine; readonly state: PageState }
  | { readonly refused: string; readonly code: string; readonly state: PageState };

/** What an event carries. */
export interface News {
  readonly revision: number;
}
