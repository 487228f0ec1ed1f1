import type { TubeNote } from "../../model/index.ts";
import type { GroupReading, RunReading } from "../../pipeline/index.ts";
import { foldBook } from "../../planning/index.ts";
import type { Reader } from "../../review/server/index.ts";
import { openRunFolder, readBench } from "../../store/index.ts";
import { type ReadingFlags, settingsOf } from "../reading/options.ts";
import { writeDivision, writeResults } from "../reading/writeResults.ts";
import { type Progress, progressOn } from "../terminal/progress.ts";
import { openArrivals } from "./arrivals.ts";
import { openCrew } from "./crew.ts";
import { keepRun } from "./keptRun.ts";
import { watchRunFolder } from "./runFolderWatch.ts";

/** A run folder that is watched and read as it changes. */
export interface WatchSession {
  readonly reader: Reader;
  /** Reads the folder for the first time, and from then on whenever something in it changes. */
  start(): Promise<void>;
  /** Stops watching; what is not written yet is written first, unless `abandon`. */
  close(abandon: boolean): Promise<void>;
}

export interface SessionPorts {
  readonly onReading: (reading: RunReading) => void;
  /** A photo or a plate was just read, long before the whole run is. */
  readonly onGroup: (group: GroupReading) => void;
  readonly onFault: (fault: string) => void;
}

/** How long a reading must rest until its results are written, ms. */
const REST_MS = 2000;

/**
 * Opens a run folder for watching.
 * @throws PlatepoolError as `openRunFolder`
 */
export async function openSession(folder: string, flags: ReadingFlags, ports: SessionPorts): Promise<WatchSession> {
  // A wrong folder or run file ends the call before anything is started.
  await openRunFolder(folder);
  const settings = settingsOf(flags);
  const terminal: Progress = progressOn(process.stderr, flags.quiet ?? false);
  const crew = openCrew(flags.workers);
  const listeners = new Set<Parameters<Reader["onChange"]>[0]>();
  const tell: Parameters<Reader["onChange"]>[0] = (what) => {
    for (const listener of listeners) listener(what);
  };
  let notes: readonly TubeNote[] = [];
  let fault: string | null = null;
  const arrivals = openArrivals(crew, () => void run.renew());
  const results = resultsOf();
  const run = keepRun({
    folder,
    settings,
    crew,
    arriving: () => arrivals.paths,
    onReading: (reading) => {
      terminal.clear();
      ports.onReading(reading);
      results.changed(reading);
      tell("reading");
    },
    onProgress: () => {
      const { busy, done, of } = run.progress;
      if (busy) terminal.step(done, of, "photos read");
      if (run.progress.fault !== fault) {
        fault = run.progress.fault;
        if (fault !== null) ports.onFault(fault);
      }
      tell("progress");
    },
    onGroup: ports.onGroup,
  });

  /** Writes results when a reading has rested; after decisions alone, which change no picture, what shows the pools. */
  function resultsOf() {
    let written: RunReading | null = null;
    let writing: Promise<void> = Promise.resolve();
    let timer: NodeJS.Timeout | undefined;
    const write = async () => {
      const { reading } = run;
      if (reading === null || reading === written || reading.plates.length === 0) return;
      const divided = reading.plates === written?.plates;
      written = reading;
      if (divided) await writeDivision(folder, reading);
      else await writeResults(folder, reading, crew, terminal);
      terminal.clear();
    };
    const next = () => {
      writing = writing.then(write).catch((error: Error) => ports.onFault(error.message));
      return writing;
    };
    return {
      changed(reading: RunReading) {
        if (reading === written) return;
        clearTimeout(timer);
        timer = setTimeout(next, REST_MS);
      },
      async close(abandon: boolean) {
        clearTimeout(timer);
        if (!abandon) await next();
      },
    };
  }

  let nowRead = (): void => undefined;
  const firstRead = new Promise<void>((resolve) => {
    nowRead = resolve;
  });
  let expecting = false;

  const readNotes = async () => {
    const { records } = await readBench(folder).catch(() => ({ records: [] }));
    notes = foldBook(records).tubes;
  };
  const watch = watchRunFolder(folder, (news, path) => {
    if (news === "journal") tell("journal");
    else if (news === "bench") void readNotes().then(() => tell("progress"));
    else if (news === "photos") arrivals.wrote(path);
    else void run.renew();
  });
  return {
    reader: {
      get reading() {
        return run.reading;
      },
      get soFar() {
        return run.soFar;
      },
      get photos() {
        return run.photos;
      },
      get progress() {
        return run.progress;
      },
      get tubeLog() {
        const file = run.input?.run ?? null;
        return { usualMl: file?.volumeMl ?? null, notes: [...(file?.bench?.tubes ?? []), ...notes] };
      },
      follow: (decisions) => run.follow(decisions),
      readAhead: (decisions) => run.readAhead(decisions),
      expectMending() {
        if (!expecting) void firstRead.then(() => run.rehearse());
        expecting = true;
      },
      onChange: (listener) => {
        listeners.add(listener);
      },
    },
    async start() {
      await readNotes();
      await run.renew();
      nowRead();
    },
    async close(abandon) {
      arrivals.close();
      await watch.close();
      await results.close(abandon);
      terminal.clear();
      await crew.close();
    },
  };
}
