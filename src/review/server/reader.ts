import type { Decisions, TubeNote } from "../../model/index.ts";
import type { RunReading } from "../../pipeline/index.ts";
import type { PhotoFile } from "../../store/index.ts";
import type { ReadingProgress } from "../api.ts";

/** Of a reading, what the page shows. */
export type ShownReading = Pick<RunReading, "result" | "straightened" | "photos">;

/** Reads the run's photos and keeps the reading up to date; the server only asks. */
export interface Reader {
  /** Null until something has been read. */
  readonly reading: ShownReading | null;
  /** While the folder is read for the first time, what of it has been read; null before and afterwards. */
  readonly soFar: ShownReading | null;
  /** Photos of the run folder. */
  readonly photos: readonly PhotoFile[];
  readonly progress: ReadingProgress;
  /** The tube log as the run file has it; the volume of a tube of which it says nothing, mL, null: nobody said. */
  readonly tubeLog: { readonly usualMl: number | null; readonly notes: readonly TubeNote[] };
  /** Works decisions into the reading in hand; photos that did not change are not read again. */
  follow(decisions: Decisions): Promise<void>;
  /** Reads what decisions would have read that somebody may be about to make; nothing of it is shown. */
  readAhead(decisions: Decisions): Promise<void>;
  /** Somebody looks at the reading, and may soon mend it. */
  expectMending(): void;
  /** Tells of a new reading, of progress, and of decisions that another process kept. */
  onChange(listener: (what: "reading" | "progress" | "journal") => void): void;
}
