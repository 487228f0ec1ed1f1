import { basename, resolve } from "node:path";
import {
  contradictions,
  describeAct,
  groundsOf,
  judgeAct,
  type Replayed,
  replay,
  volumesIn,
  writtenOver,
} from "../../decisions/index.ts";
import {
  type Contradiction,
  type Decisions,
  type Finding,
  type JournalLine,
  PlatepoolError,
  type Result,
} from "../../model/index.ts";
import { digestOf, keepAct, parseAct, readJournal } from "../../store/index.ts";
import type { ActAnswer, PageState } from "../api.ts";
import { pictureShelf } from "./pictures.ts";
import type { Reader } from "./reader.ts";

export interface DeskPorts {
  readonly folder: string;
  readonly reader: Reader;
  /** ISO 8601. */
  readonly clock: () => string;
  readonly onNews: (revision: number) => void;
}

/** Where the reading and the person's decisions lie side by side: says how all stands, keeps acts. */
export interface Desk {
  readonly pictures: ReturnType<typeof pictureShelf>;
  state(): PageState;
  /** Judges an act on the newest state and keeps it; saved means on disk. */
  act(request: unknown): Promise<ActAnswer>;
  /** Has read what a mending would have read that may be about to come; one that could not be is passed over. */
  ahead(request: unknown): Promise<void>;
}

/** Opens the journal of a run folder beside its reading. */
export async function openDesk({ folder, reader, clock, onNews }: DeskPorts): Promise<Desk> {
  const pictures = pictureShelf();
  const first = await readJournal(folder);
  let replayed: Replayed = replay(first.lines);
  let faults: readonly Finding[] = first.findings;
  let unusable = first.unusable;
  let shown = { reading: reader.reading, ...pictures.show(reader.reading ?? { straightened: [], photos: [] }) };
  let following = 0;
  let revision = 1;
  let cached: PageState | null = null;
  let telling = false;
  const changed = () => {
    revision++;
    cached = null;
    // What changes in one turn is told once: each telling makes every open page fetch the state.
    if (telling) return;
    telling = true;
    setImmediate(() => {
      telling = false;
      onNews(revision);
    });
  };
  const take = (lines: readonly JournalLine[], findings: readonly Finding[]) => {
    replayed = replay(lines);
    faults = findings;
    changed();
    following++;
    const done = () => {
      following--;
      changed();
    };
    // A reader that fails says so in its progress; the act is kept all the same.
    reader.follow(replayed.decisions).then(done, done);
  };
  const reload = async () => {
    const { lines, findings, unusable: now } = await readJournal(folder);
    const same = (lines.at(-1)?.id ?? 0) === replayed.decisions.last && now?.message === unusable?.message;
    unusable = now;
    if (!same) take(lines, findings);
  };
  let queue: Promise<unknown> = Promise.resolve();
  const inTurn = <T>(work: () => Promise<T>): Promise<T> => {
    const done = queue.then(work);
    queue = done.catch(() => undefined);
    return done;
  };
  reader.onChange((what) => {
    // Behind what is being kept: its own line in the journal is no news.
    if (what === "journal") return void inTurn(reload).catch(() => undefined);
    if (reader.reading !== null && reader.reading !== shown.reading)
      shown = { reading: reader.reading, ...pictures.show(reader.reading) };
    else if (reader.reading === null && reader.soFar !== null)
      shown = { reading: null, ...pictures.show(reader.soFar) };
    changed();
  });

  const state = (): PageState => {
    const { decisions, history, findings } = replayed;
    const result = shown.reading?.result ?? null;
    const { usualMl, notes } = reader.tubeLog;
    const log = writtenOver(notes, decisions.log);
    const volumeOf = volumesIn(usualMl, log);
    return {
      revision,
      folder: basename(resolve(folder)),
      result,
      soFar: result === null ? (reader.soFar?.result ?? null) : null,
      expected: result === null ? reader.photos.map((p) => p.file) : [],
      volumesMl: (result?.fractions ?? []).map((f) => volumeOf(f.number)),
      tubeLog: { usualMl, notes: log },
      platePictures: shown.platePictures,
      photos: shown.photos,
      last: decisions.last,
      division: decisions.division,
      contradictions: result ? contradictionsOf(decisions, result) : [],
      undo: decisions.undo,
      redo: decisions.redo,
      history: history.map((entry) => ({
        id: entry.line.id,
        at: entry.line.at,
        words: describeAct(entry),
        stands: entry.stands,
      })),
      journalFaults: [...faults, ...findings].map((f) => `${f.message} ${f.remedy}`),
      shut: unusable && faults.map((f) => `${f.message} ${f.remedy}`).join(" "),
      catchingUp: following > 0,
      reading: reader.progress,
    };
  };
  const now = () => {
    cached ??= state();
    return cached;
  };

  const keep = async (request: unknown): Promise<ActAnswer> => {
    try {
      const { last, act } = actRequest(request);
      const result = shown.reading?.result;
      if (!result) throw new PlatepoolError("decision-nothing", "nothing has been read yet, so nothing can be decided");
      const kept = await keepAct(folder, clock(), (lines) => {
        judgeAct(act, replay(lines).decisions, result, last);
        return { act, on: digestOf(groundsOf(result, act)) };
      });
      take(kept.lines, kept.findings);
      return { saved: kept.line, state: now() };
    } catch (error) {
      if (!(error instanceof PlatepoolError)) throw error;
      if (error.code === "decision-overtaken") await reload();
      return { refused: error.message, code: error.code, state: now() };
    }
  };
  const ahead = async (request: unknown): Promise<void> => {
    const result = shown.reading?.result;
    const { decisions, history } = replayed;
    try {
      const { last, act } = actRequest(request);
      if (!result || act.kind !== "mend") return;
      judgeAct(act, decisions, result, last);
      const line = { id: last + 1, at: clock(), on: null, act };
      await reader.readAhead(replay([...history.map((entry) => entry.line), line]).decisions);
    } catch (error) {
      if (!(error instanceof PlatepoolError)) throw error;
    }
  };
  const act = (request: unknown): Promise<ActAnswer> => {
    // Its reading begins while the disk is still at work; what goes wrong with that, the reading that follows will tell.
    ahead(request).catch(() => undefined);
    return inTurn(() => keep(request));
  };
  return { pictures, state: now, act, ahead };
}

/** As the reading itself has them, mendings that it could not follow included, where it knows the newest decisions. */
function contradictionsOf(decisions: Decisions, result: Result): readonly Contradiction[] {
  const known = result.decisions;
  return known?.last === decisions.last ? known.contradictions : contradictions(decisions, result);
}

/** What came over the wire, checked. */
function actRequest(request: unknown) {
  const { last, act } = (request ?? {}) as { last?: unknown; act?: unknown };
  const parsed = parseAct(act);
  if (parsed === null || typeof last !== "number" || !Number.isInteger(last) || last < 0)
    throw new PlatepoolError("decision-act", "this is no act that the program knows: load the page anew");
  return { last, act: parsed };
}
