import { type ChildProcess, spawn } from "node:child_process";
import { readdirSync, statSync } from "node:fs";
import { join } from "node:path";

export interface Ended {
  readonly status: number | null;
  readonly signal: NodeJS.Signals | null;
  readonly out: string;
  readonly err: string;
}

const BUILT = "dist/cli/main.js";

/** The program as it was built where nothing in src is newer, which starts faster; else its source through tsx. */
const PROGRAM = builtIsFresh() ? [BUILT] : ["--import", "tsx", "src/cli/main.ts"];

function builtIsFresh(): boolean {
  const built = statSync(BUILT, { throwIfNoEntry: false })?.mtimeMs ?? 0;
  const sources = readdirSync("src", { recursive: true, encoding: "utf8" });
  return sources.every((file) => (statSync(join("src", file), { throwIfNoEntry: false })?.mtimeMs ?? 0) < built);
}

/** Starts the program; its output is piped. */
export function startCli(args: readonly string[], env: NodeJS.ProcessEnv = {}): ChildProcess {
  return spawn(process.execPath, [...PROGRAM, ...args], {
    env: { ...process.env, PLATEPOOL_DEBUG: "", ...env },
    stdio: ["ignore", "pipe", "pipe"],
  });
}

/** What a process printed and how it ended. */
export function ended(child: ChildProcess): Promise<Ended> {
  let out = "";
  let err = "";
  child.stdout!.setEncoding("utf8").on("data", (text) => {
    out += text;
  });
  child.stderr!.setEncoding("utf8").on("data", (text) => {
    err += text;
  });
  return new Promise((resolve) => child.on("close", (status, signal) => resolve({ status, signal, out, err })));
}

/** Runs the program to its end. */
export function platepool(...args: string[]): Promise<Ended> {
  return ended(startCli(args));
}
