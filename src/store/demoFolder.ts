import { createHash } from "node:crypto";
import { promises as fs } from "node:fs";
import { basename, join, resolve } from "node:path";
import writeFileAtomic from "write-file-atomic";
import { PlatepoolError } from "../model/index.ts";

/** Lists what we wrote, with checksums, so that a file somebody changed is known from our own. */
const LIST = ".platepool-demo.json";
const LIST_SCHEMA = "platepool.demo/1";
/** What reading and deciding add beside the demo's own files. */
const BESIDE = new Set(["results", "decisions.jsonl", LIST]);

type Checksums = Readonly<Record<string, string>>;

/**
 * Makes sure that a demo may be written into a folder: there is none, it is empty, or all in it is an unchanged demo.
 * @throws PlatepoolError demo-folder-in-use
 */
async function claimDemoFolder(folder: string): Promise<void> {
  const entries = await fs.readdir(folder).catch((error: NodeJS.ErrnoException) => {
    if (error.code === "ENOENT") return [];
    throw inUse(folder, "is not a folder that can be opened");
  });
  const ours = await listed(folder);
  for (const name of entries) {
    if (BESIDE.has(name) && ours !== null) continue;
    const sum = ours?.[name];
    if (sum === undefined) throw inUse(folder, `holds ${name}, which is no part of a demo`);
    if (sum !== (await checksum(join(folder, name)))) throw inUse(folder, `holds ${name}, which was changed since`);
  }
}

/** Opens a folder for a demo's files, each written whole and listed as ours. */
export async function openDemoFolder(folder: string) {
  await claimDemoFolder(folder);
  await fs.mkdir(folder, { recursive: true }).catch(() => {
    throw new PlatepoolError(
      "demo-folder",
      `${basename(resolve(folder))}: the folder cannot be made: check the name and that you may write there`,
    );
  });
  const files: Record<string, string> = { ...(await listed(folder)) };
  return {
    async write(name: string, content: string | Uint8Array): Promise<void> {
      // Listed before it is written: a demo that was interrupted is still known as ours.
      files[name] = createHash("sha256").update(content).digest("hex");
      await writeList(folder, files);
      await writeFileAtomic(join(folder, name), typeof content === "string" ? content : Buffer.from(content));
    },
  };
}

async function writeList(folder: string, files: Checksums): Promise<void> {
  await writeFileAtomic(join(folder, LIST), `${JSON.stringify({ schema: LIST_SCHEMA, files }, null, 2)}\n`);
}

async function listed(folder: string): Promise<Checksums | null> {
  try {
    const list = JSON.parse(await fs.readFile(join(folder, LIST), "utf8"));
    return list.schema === LIST_SCHEMA && typeof list.files === "object" ? list.files : null;
  } catch {
    return null;
  }
}

async function checksum(path: string): Promise<string | null> {
  const bytes = await fs.readFile(path).catch(() => null);
  return bytes && createHash("sha256").update(bytes).digest("hex");
}

function inUse(folder: string, why: string): PlatepoolError {
  return new PlatepoolError(
    "demo-folder-in-use",
    `${basename(resolve(folder))}: the folder ${why}: name a new folder for the demo`,
  );
}

/** True where a folder holds a demo that we made: its plates are invented. */
export async function isDemoFolder(folder: string): Promise<boolean> {
  return (await listed(folder)) !== null;
}
