import { open, readFile, stat } from "node:fs/promises";
import { join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { type Act, type Finding, type JournalLine, PlatepoolError } from "../model/index.ts";
import { sha256 } from "./elnArchive.ts";
import { withJournalLock } from "./journalLock.ts";
import { actSchema, journalLineSchema } from "./journalSchema.ts";
import {
  HEADER,
  JOURNAL_FILE,
  type JournalText,
  parseJournal,
  TORN_FILE,
  tornFinding,
  unusableFinding,
} from "./journalText.ts";

const MOST_BYTES = 200e6;

export interface ReadJournal extends Pick<JournalText, "lines" | "findings"> {
  /** Why nothing of it counts and nothing can be kept in it; null where all is well. */
  readonly unusable: PlatepoolError | null;
}

/** An act to be kept, with the digest of what it was decided on. */
export interface ActDraft {
  readonly act: Act;
  readonly on: string | null;
}

export interface KeptAct extends Pick<JournalText, "findings"> {
  readonly line: JournalLine;
  /** The journal with it. */
  readonly lines: readonly JournalLine[];
}

/**
 * Reads the journal of a run folder; none is an empty one. A line that is no act is told and passed over, and so is a
 * last line that breaks off, once it is clear that nobody is just writing it. A file of a foreign or newer format, or one
 * that cannot be opened, is told too and holds nothing for this program: photos can be read without it.
 */
export async function readJournal(folder: string): Promise<ReadJournal> {
  try {
    for (let attempt = 0; ; attempt++) {
      const text = parseJournal(await bytesOf(folder));
      if (text.torn === 0) return { ...text, unusable: null };
      if (attempt === 3)
        return { lines: text.lines, findings: [...text.findings, tornFinding(text, false)], unusable: null };
      await pause(15);
    }
  } catch (error) {
    if (!(error instanceof PlatepoolError)) throw error;
    return { lines: [], findings: [unusableFinding(error)], unusable: error };
  }
}

/**
 * Keeps one act: reads the newest state under the folder's lock, has the act made (and judged) for it, appends it and
 * syncs it to disk before it returns. What the draft throws is thrown on, and nothing is kept. Two processes, or two
 * parts of one, can do so at once without losing anything.
 * @param at ISO 8601 time of the act
 * @param draft makes the act for the lines there are now; quick, for others wait
 * @throws PlatepoolError decisions-busy, decisions-not-writable, decisions-format, decisions-unreadable
 */
export async function keepAct(
  folder: string,
  at: string,
  draft: (lines: readonly JournalLine[]) => ActDraft,
): Promise<KeptAct> {
  return withJournalLock(folder, async () => {
    for (;;) {
      const bytes = await bytesOf(folder);
      const text = parseJournal(bytes);
      const { act, on } = draft(text.lines);
      const line = asReadBack({ id: (text.lines.at(-1)?.id ?? 0) + 1, at, on, act });
      const aside = await writing(() => setTornAside(folder, bytes, text));
      if (await writing(() => append(folder, bytes.length - text.torn, text.open, line)))
        return { line, lines: [...text.lines, line], findings: [...text.findings, ...aside] };
    }
  });
}

/** Digest of what an act was decided on: the first 16 hexadecimal digits of its SHA-256. */
export function digestOf(grounds: string): string {
  return sha256(new TextEncoder().encode(grounds)).slice(0, 16);
}

/** An act as it came from outside, or null where it is none. */
export function parseAct(value: unknown): Act | null {
  const parsed = actSchema.safeParse(value);
  return parsed.success ? parsed.data : null;
}

/** The line as a reader of the journal will have it: what no reader could take is not written. */
function asReadBack(line: JournalLine): JournalLine {
  const parsed = journalLineSchema.safeParse(JSON.parse(JSON.stringify(line)));
  if (parsed.success) return parsed.data;
  throw new PlatepoolError("decision-malformed", "this is no act that can be kept; nothing was changed");
}

async function bytesOf(folder: string): Promise<Buffer> {
  try {
    const path = join(folder, JOURNAL_FILE);
    const { size } = await stat(path);
    if (size <= MOST_BYTES) return await readFile(path);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === "ENOENT") return Buffer.alloc(0);
  }
  throw new PlatepoolError(
    "decisions-unreadable",
    `${JOURNAL_FILE}: cannot be read: check that it is a file of yours and that you may open it`,
  );
}

/** Moves what a crash left of a line to a file of its own, synced there before it is cut off the journal. */
async function setTornAside(folder: string, bytes: Buffer, text: JournalText): Promise<Finding[]> {
  if (text.torn === 0) return [];
  const whole = bytes.length - text.torn;
  await addTo(join(folder, TORN_FILE), Buffer.concat([bytes.subarray(whole), Buffer.from("\n")]));
  const file = await open(join(folder, JOURNAL_FILE), "r+");
  try {
    await file.truncate(whole);
    await file.sync();
  } finally {
    await file.close();
  }
  return [tornFinding(text, true)];
}

/**
 * Appends a line, before the first one the format's, and syncs it.
 * @param end length of the journal that the act was made for
 * @returns false where somebody wrote in between without the lock: then the line's number is taken and it does not count
 */
async function append(folder: string, end: number, unended: boolean, line: JournalLine): Promise<boolean> {
  const before = end === 0 ? `${HEADER}\n` : unended ? "\n" : "";
  const bytes = Buffer.from(`${before}${JSON.stringify(line)}\n`);
  await addTo(join(folder, JOURNAL_FILE), bytes);
  if (end === 0) await syncFolder(folder);
  const now = await bytesOf(folder);
  return now.subarray(end, end + bytes.length).equals(bytes);
}

async function addTo(path: string, bytes: Buffer): Promise<void> {
  const file = await open(path, "a");
  try {
    await file.appendFile(bytes);
    await file.sync();
  } finally {
    await file.close();
  }
}

/** A new file is on the disk only when its folder is; where folders cannot be synced, nothing more can be done. */
async function syncFolder(folder: string): Promise<void> {
  const handle = await open(folder, "r").catch(() => null);
  await handle?.sync().catch(() => undefined);
  await handle?.close();
}

async function writing<T>(work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (error) {
    if (error instanceof PlatepoolError) throw error;
    throw new PlatepoolError(
      "decisions-not-writable",
      `${JOURNAL_FILE}: cannot be written, so nothing was kept: check that you may write in the run folder and that the disk has room`,
    );
  }
}
