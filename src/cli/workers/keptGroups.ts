import { type GroupReading, type OpenGroup, openGroup } from "../../pipeline/index.ts";
import { readPhotoBytes } from "../../store/index.ts";
import type { Job } from "./job.ts";

/** Photos that one thread keeps decoded: some 10 MB each, and as much again for what was made ready of them. */
const MOST_PHOTOS = 10;

/** The groups that this thread keeps, the one asked for last at the end. */
const kept = new Map<string, Promise<OpenGroup>>();
const sizes = new Map<string, number>();

/** Reads a group and keeps its photos decoded, so that it can be read again quickly after a mending. */
export async function readKept(job: Job & { readonly kind: "read-kept" }): Promise<GroupReading> {
  const { key, group, photos, told, pictures } = job;
  const byName = new Map(photos.map((p) => [p.file, p]));
  const open = kept.get(key) ?? openGroup(group, (file) => readPhotoBytes(byName.get(file)!), true);
  kept.delete(key);
  kept.set(key, open);
  sizes.set(key, group.photos.length);
  forgetOldest();
  return (await open).read(told, { pictures });
}

/** Does once, for nothing, what a mending of a kept group takes. */
export async function rehearse(key: string): Promise<null> {
  await (await kept.get(key))?.rehearse();
  return null;
}

function forgetOldest(): void {
  let all = [...kept.keys()].reduce((sum, key) => sum + (sizes.get(key) ?? 0), 0);
  for (const key of [...kept.keys()].slice(0, -1)) {
    if (all <= MOST_PHOTOS) return;
    all -= sizes.get(key) ?? 0;
    kept.delete(key);
    sizes.delete(key);
  }
}
