import { type ChildProcess, spawn } from "node:child_process";
import { promises as fs } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { seededRandom } from "../../../src/math/random.ts";
import { readJournal } from "../../../src/store/index.ts";
import { builtStore } from "./builtStore.ts";

const WRITER = resolve("tests/store/support/busyWriter.mjs");
/** Milliseconds that a writer works at most after its first act. */
const LONGEST = 40;

export interface KillOptions {
  readonly kills: number;
  /** How many write into the folder at once. */
  readonly writers: number;
  readonly seed: number;
}

export interface KillOutcome {
  /** Acts that writers reported kept. */
  readonly reported: number;
  /** Acts in the journal; some were kept but their writer did not live to say so. */
  readonly kept: number;
  /** What went wrong, in words; empty where nothing did. */
  readonly faults: readonly string[];
}

/**
 * Processes that decide and leave results in one folder without end are killed (SIGKILL) at random moments, several at
 * once; every tenth time, and at the end, everything is checked.
 */
export async function killWriters({ kills, writers, seed }: KillOptions): Promise<KillOutcome> {
  const built = builtStore();
  const folder = await fs.mkdtemp(join(tmpdir(), "kill-"));
  const random = seededRandom(seed);
  const said = new Map<number, number>();
  const faults: string[] = [];
  let started = 0;
  const lane = async () => {
    while (started < kills) {
      const mark = ++started;
      const child = spawn(process.execPath, [WRITER, built, folder, String(mark)], {
        stdio: ["ignore", "pipe", "inherit"],
      });
      const text = await killed(child, LONGEST * random(), faults);
      // What follows the last line end was cut off on its way to us, not in the journal.
      for (const line of text.split("\n").slice(0, -1)) {
        const [id, value] = line.split(" ").map(Number);
        if (said.has(id)) faults.push(`act ${id} was reported twice`);
        said.set(id, value);
      }
      if (mark % 10 === 0) faults.push(...(await faultsIn(folder, said)));
    }
  };
  try {
    await Promise.all(Array.from({ length: writers }, lane));
    faults.push(...(await faultsIn(folder, said)));
    return { reported: said.size, kept: (await readJournal(folder)).lines.length, faults };
  } finally {
    await fs.rm(built, { recursive: true, force: true });
    await fs.rm(folder, { recursive: true, force: true });
  }
}

/** Lets a writer work, kills it some time after its first act; what it had printed. */
function killed(child: ChildProcess, delay: number, faults: string[]): Promise<string> {
  let text = "";
  return new Promise((done) => {
    child.stdout!.setEncoding("utf8").on("data", (chunk: string) => {
      if (text === "") setTimeout(() => child.kill("SIGKILL"), delay);
      text += chunk;
    });
    child.on("close", (status, signal) => {
      if (signal !== "SIGKILL") faults.push(`a writer ended by itself with ${status}`);
      done(text);
    });
  });
}

/** Acts reported kept that are not there or not in place, files half written. */
async function faultsIn(folder: string, said: ReadonlyMap<number, number>): Promise<string[]> {
  const faults: string[] = [];
  const { lines, findings } = await readJournal(folder);
  const marks = new Map(
    lines.map(({ id, act }) => [id, act.kind === "mend" && act.mending.what === "origin" ? act.mending.y : null]),
  );
  for (const [id, mark] of said) if (marks.get(id) !== mark) faults.push(`act ${id}, reported kept, is lost`);
  lines.forEach(({ id }, i) => {
    if (id !== i + 1) faults.push(`act ${id} stands in place ${i + 1}`);
  });
  for (const f of findings) if (f.code !== "decision-line-torn") faults.push(f.message);
  try {
    const { mark, end } = JSON.parse(await fs.readFile(join(folder, "results", "result.json"), "utf8"));
    if (mark !== end) faults.push("result.json is of two writers");
  } catch (error) {
    // The first writers may have been killed before they left a result.
    if ((error as NodeJS.ErrnoException).code !== "ENOENT") faults.push("result.json is half written");
  }
  return faults;
}
