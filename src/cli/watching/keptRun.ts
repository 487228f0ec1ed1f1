import { createHash } from "node:crypto";
import { type Decisions, type PlateKey, PlatepoolError, type ReadSettings } from "../../model/index.ts";
import {
  decideRun,
  type GroupReading,
  type PhotoGroup,
  type RunInput,
  type RunReading,
  readSoFar,
  readTogether,
  redecided,
  runGroups,
  runPictures,
} from "../../pipeline/index.ts";
import type { ReadingProgress } from "../../review/api.ts";
import type { ShownReading } from "../../review/server/index.ts";
import { openRunFolder, type PhotoFile, readJournal } from "../../store/index.ts";
import { expectedBands } from "../reading/expectedBands.ts";
import { linesOf } from "../terminal/runProgram.ts";
import type { Crew } from "./crew.ts";
import { openDigests } from "./digests.ts";
import { inputOf } from "./inputOf.ts";

/** A run whose readings are kept: only what changed is read again. */
export interface KeptRun {
  readonly reading: RunReading | null;
  readonly photos: readonly PhotoFile[];
  readonly progress: ReadingProgress;
  /** While the folder is read for the first time, what of it has been read; null before and afterwards. */
  readonly soFar: ShownReading | null;
  /** What went into the reading. */
  readonly input: RunInput | null;
  /** Looks at the folder and reads what is new; calls while it does so are answered by one more look. */
  renew(): Promise<void>;
  /** Works decisions into the reading. */
  follow(decisions: Decisions): Promise<void>;
  /** Reads what decisions that may come would have read; shows nothing, and leaves all else as it is. */
  readAhead(decisions: Decisions): Promise<void>;
  /** Does a few times, for nothing, what a mending takes, so that the first one is as quick as the others. */
  rehearse(): Promise<void>;
}

export interface KeptRunPorts {
  readonly folder: string;
  readonly settings: ReadSettings;
  readonly crew: Pick<Crew, "read" | "rehearse">;
  /** Paths of photos that are not whole yet: they are left out. */
  readonly arriving: () => ReadonlySet<string>;
  readonly onReading: (reading: RunReading) => void;
  readonly onProgress: () => void;
  /** A group was read just now, not taken from what was kept. */
  readonly onGroup: (group: GroupReading) => void;
}

/** Readings of groups as they were mended before: taking a mending back reads nothing. */
const EARLIER = 12;
/** After so many the code that a mending runs is compiled: the first takes three times as long as the ninth. */
const REHEARSALS = 8;

/** A group as it was mended, read or being read. */
interface KeptGroup {
  /** Without pictures where they come later. */
  readonly read: Promise<GroupReading>;
  /** With its pictures, which are made when this is asked for first. */
  readonly full: () => Promise<GroupReading>;
  /** Nobody was told of it yet. */
  untold: boolean;
}

/** Keeps a run folder's reading up to date, when it is told to look. */
export function keepRun(ports: KeptRunPorts): KeptRun {
  const { folder, settings, crew, arriving, onReading, onProgress, onGroup } = ports;
  const digests = openDigests();
  const kept = new Map<string, KeptGroup>();
  /** What was read ahead last: it makes room for the next, unless it was used. */
  let ahead: string | null = null;
  /** Readings that the last look was made of. */
  const used = new Set<string>();
  /** Groups, by the bytes of their photos, that a thread has decoded once: to read one as it was mended is quick. */
  const decoded = new Set<string>();
  /** The readings of the last look with their pictures, by their photos: a group may be read in more ways than the one taken. */
  const pictured = new Map<GroupReading["photos"], Promise<GroupReading>>();
  let groups: readonly GroupReading[] = [];
  let reading: RunReading | null = null;
  let soFar: ShownReading | null = null;
  let photos: readonly PhotoFile[] = [];
  let input: RunInput | null = null;
  let decisions: Decisions | null = null;
  let progress = { busy: false, done: 0, of: 0, fault: null as string | null };
  const told = (next: Partial<typeof progress>) => {
    progress = { ...progress, ...next };
    onProgress();
  };

  /** A group by its own name and that of its photos' bytes, alone and with what is said of it from elsewhere. */
  const known = async ({ mendings = [], byOthers = [], ...group }: PhotoGroup) => {
    const own = group.photos.map((p) => photos.find(({ file }) => file === p.file)!);
    const isOf = ({ plate }: { readonly plate: PlateKey }) => own.some((p) => plate.photos.includes(p.file));
    const about = { mendings: mendings.filter(isOf), byOthers: byOthers.filter(isOf) };
    const bytes = await Promise.all(own.map((p) => digests.of(p)));
    const key = digest([group, bytes]);
    return { group, own, about, key, whole: digest([key, about]) };
  };

  const begin = ({ group, own, about, key, whole }: Awaited<ReturnType<typeof known>>): KeptGroup => {
    // A mended plate is decided on while its pictures are still being made.
    const pictures = !decoded.has(key);
    decoded.add(key);
    const read = crew.read(key, group, own, about, { pictures });
    let full = pictures ? read : null;
    const begun: KeptGroup = {
      read,
      full: () => {
        full ??= withoutCrash(crew.read(key, group, own, about, { pictures: true }));
        return full;
      },
      untold: true,
    };
    // What a dead thread left unread is read again the next time.
    const withoutCrash = (reading: Promise<GroupReading>) => {
      void reading.then(({ crashes }) => crashes.length > 0 && kept.get(whole) === begun && kept.delete(whole));
      return reading;
    };
    void withoutCrash(read);
    kept.set(whole, begun);
    return begun;
  };

  const readGroups = async (groups: readonly PhotoGroup[]): Promise<GroupReading[]> => {
    const all = groups.reduce((n, g) => n + g.photos.length, 0);
    let done = 0;
    let announced = false;
    const ready: GroupReading[] = [];
    const reads = groups.map(async (asked, i) => {
      const group = await known(asked);
      if (!decoded.has(group.key) && !announced) {
        announced = true;
        told({ busy: true, done, of: all });
      }
      const one = kept.get(group.whole) ?? begin(group);
      // The ones used last are forgotten last.
      kept.delete(group.whole);
      kept.set(group.whole, one);
      used.add(group.whole);
      const full = one.full();
      const result = await one.read;
      pictured.set(result.photos, full);
      if (one.untold) onGroup(result);
      one.untold = false;
      done += group.own.length;
      ready[i] = result;
      if (reading === null && input !== null) soFar = readSoFar(input, settings, ready.flat());
      if (announced) told({ done });
      return result;
    });
    return Promise.all(reads);
  };

  const readAhead = async (groups: readonly PhotoGroup[]): Promise<GroupReading[]> => {
    const all = await Promise.all(groups.map(known));
    return Promise.all(
      all.map((group) => {
        const one = kept.get(group.whole);
        if (one) return one.read;
        if (!decoded.has(group.key)) throw new PlatepoolError("photo-changed", "a photo changed; it is read first");
        if (ahead !== null && !used.has(ahead)) kept.delete(ahead);
        ahead = group.whole;
        const { read, full } = begin(group);
        // Pictures of a place that was left meanwhile would only keep the next one waiting.
        void read.then(() => {
          if (ahead === group.whole) void full();
        });
        return read;
      }),
    );
  };

  const look = async () => {
    if (reading === null) told({ busy: true });
    const opened = await openRunFolder(folder);
    const journal = await readJournal(folder);
    const away = arriving();
    photos = opened.photos.filter((p) => !away.has(p.path));
    input = {
      ...inputOf(opened, journal, photos, away.size > 0),
      ...(await expectedBands(folder, opened.run)),
    };
    decisions = input.decisions ?? null;
    used.clear();
    pictured.clear();
    const read = await readTogether(runGroups(input, settings), readGroups);
    for (const key of [...kept.keys()].slice(0, -used.size - EARLIER)) kept.delete(key);
    const decided = decideRun(input, settings, read);
    const shown = await Promise.all(read.map((group) => pictured.get(group.photos) ?? group));
    reading = { ...decided, ...runPictures(input, shown) };
    groups = read;
    soFar = null;
    if (progress.busy || progress.fault !== null) told({ busy: false, fault: null });
    onReading(reading);
  };

  let again = false;
  let looking: Promise<void> | null = null;
  const renew = (): Promise<void> => {
    again = true;
    looking ??= (async () => {
      while (again) {
        again = false;
        try {
          await look();
        } catch (error) {
          told({ busy: false, fault: wordsOf(error) });
        }
      }
      looking = null;
    })();
    return looking;
  };

  return {
    get reading() {
      return reading;
    },
    get soFar() {
      return soFar;
    },
    get photos() {
      return photos;
    },
    get input() {
      return input;
    },
    get progress() {
      return { ...progress, arriving: [...arriving()].map((path) => path.split(/[\\/]/).at(-1)!) };
    },
    renew,
    async readAhead(next) {
      if (input === null || reading === null || looking !== null) return;
      await readTogether(runGroups({ ...input, decisions: next }, settings), readAhead).catch((error) => {
        if (!(error instanceof PlatepoolError)) throw error;
      });
    },
    async rehearse() {
      for (let i = 0; i < REHEARSALS; i++) {
        await crew.rehearse();
        if (input === null || looking !== null) return;
        decideRun(input, settings, groups);
      }
    },
    async follow(newest) {
      if (newest.last === decisions?.last && looking === null) return;
      const earlier = looking === null ? reading : null;
      const result = earlier && redecided(earlier.result, newest, input?.run ?? null);
      if (!earlier || !result) return renew();
      decisions = newest;
      input = input && { ...input, decisions: newest };
      reading = { ...earlier, result };
      onReading(reading);
    },
  };
}

function digest(value: unknown): string {
  return createHash("sha256").update(JSON.stringify(value)).digest("hex");
}

function wordsOf(error: unknown): string {
  if (error instanceof PlatepoolError) return linesOf(error).join("; ");
  throw error;
}
