import { randomUUID } from "node:crypto";
import { promises as fs } from "node:fs";
import { hostname } from "node:os";
import { dirname, join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { PlatepoolError } from "../model/index.ts";

const LOCK_FILE = ".decisions.lock";
/** Guards the taking away of a lock whose holder is dead. */
const BREAKER_FILE = ".decisions.lock.break";
/** A lock is held for milliseconds; one so old was left behind, whoever now has its holder's number. */
const STALE_MS = 10_000;
const PATIENCE_MS = 15_000;
const PAUSE_MS = 4;

interface Holder {
  readonly pid: number;
  readonly host: string;
  readonly token: string;
}

/**
 * Does some work while no other process (or other part of this one) does work under the lock of the same folder. A lock
 * left by a killed process is taken away.
 * @throws PlatepoolError decisions-busy, decisions-not-writable, and what the work throws
 */
export async function withJournalLock<T>(folder: string, work: () => Promise<T>): Promise<T> {
  const path = join(folder, LOCK_FILE);
  const token = randomUUID();
  await take(path, token);
  try {
    return await work();
  } finally {
    // Only one's own: a process that slept for long may have lost it to another.
    if ((await holderOf(path))?.token === token) await fs.rm(path, { force: true });
  }
}

async function take(path: string, token: string): Promise<void> {
  const start = Date.now();
  while (!(await create(path, token))) {
    if (await isStale(path)) await breakLock(path);
    else if (Date.now() - start > PATIENCE_MS) throw busy(await holderOf(path));
    else await pause(PAUSE_MS + 4 * Math.random());
  }
}

/** Makes the lock with its holder in it, in one step: nobody ever sees it empty. */
async function create(path: string, token: string): Promise<boolean> {
  const holder: Holder = { pid: process.pid, host: hostname(), token };
  const own = `${path}.${token}`;
  try {
    await fs.writeFile(own, JSON.stringify(holder), { flag: "wx" });
    await fs.link(own, path);
    return true;
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code;
    if (code === "EEXIST") return false;
    // No hard links here (FAT, some shares): made empty, then filled.
    if (code === "EPERM" || code === "ENOTSUP" || code === "ENOSYS" || code === "EOPNOTSUPP")
      return plainly(path, holder);
    throw new PlatepoolError(
      "decisions-not-writable",
      "decisions.jsonl: cannot be written, so nothing was kept: check that you may write in the run folder and that the disk has room",
    );
  } finally {
    await fs.rm(own, { force: true });
  }
}

async function plainly(path: string, holder: Holder): Promise<boolean> {
  try {
    await fs.writeFile(path, JSON.stringify(holder), { flag: "wx" });
    return true;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === "EEXIST") return false;
    throw error;
  }
}

async function holderOf(path: string): Promise<Holder | null> {
  try {
    return JSON.parse(await fs.readFile(path, "utf8"));
  } catch {
    return null;
  }
}

async function isStale(path: string): Promise<boolean> {
  const stat = await fs.stat(path).catch(() => null);
  if (stat === null) return false;
  if (Date.now() - stat.mtimeMs > STALE_MS) return true;
  const holder = await holderOf(path);
  return holder !== null && holder.host === hostname() && !isAlive(holder.pid);
}

function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code !== "ESRCH";
  }
}

/**
 * Takes a stale lock away. Only who holds the breaker may, and looks again first: between two that saw the same stale
 * lock, the slower one must not take away the new lock of the quicker one.
 */
async function breakLock(path: string): Promise<void> {
  const breaker = join(dirname(path), BREAKER_FILE);
  try {
    await fs.writeFile(breaker, String(process.pid), { flag: "wx" });
  } catch {
    const stat = await fs.stat(breaker).catch(() => null);
    if (stat !== null && Date.now() - stat.mtimeMs > STALE_MS) await fs.rm(breaker, { force: true });
    else await pause(PAUSE_MS);
    return;
  }
  try {
    if (await isStale(path)) await fs.rm(path, { force: true });
    await clearLeftovers(path);
  } finally {
    await fs.rm(breaker, { force: true });
  }
}

/** What processes killed while they took the lock have left. */
async function clearLeftovers(path: string): Promise<void> {
  const folder = dirname(path);
  for (const name of await fs.readdir(folder)) {
    if (!name.startsWith(`${LOCK_FILE}.`) || name === BREAKER_FILE) continue;
    const stat = await fs.lstat(join(folder, name)).catch(() => null);
    if (stat?.isFile() && Date.now() - stat.mtimeMs > STALE_MS) await fs.rm(join(folder, name), { force: true });
  }
}

function busy(holder: Holder | null): PlatepoolError {
  const who = holder === null ? "another program" : `process ${holder.pid} on ${holder.host}`;
  return new PlatepoolError(
    "decisions-busy",
    `decisions.jsonl: ${who} is writing there and does not end, so nothing was kept: close it, then try again`,
  );
}
