import type { GroupReading, PhotoGroup, ReadGroupOptions, Told } from "../../pipeline/index.ts";
import type { PhotoFile } from "../../store/index.ts";
import type { JobResults } from "../workers/job.ts";
import { lostGroup } from "../workers/lostGroup.ts";
import { openThreads, type WorkerPool } from "../workers/pool.ts";

/** A few threads, each of which keeps the photos that it has read: a group always goes to the same one. */
export interface Crew extends WorkerPool {
  read(
    key: string,
    group: PhotoGroup,
    photos: readonly PhotoFile[],
    told: Told,
    options: ReadGroupOptions,
  ): Promise<GroupReading>;
  /** Has each thread that keeps groups do what the mending of one takes, for nothing. */
  rehearse(): Promise<unknown>;
  check(photo: PhotoFile): Promise<string | null>;
}

/** @param size number of threads, one at the least */
export function openCrew(size: number): Crew {
  const threads = Array.from({ length: Math.max(1, size) }, () => ({ pool: openThreads(1, 1), load: 0 }));
  const homes = new Map<string, (typeof threads)[number]>();
  const idlest = () => threads.reduce((best, t) => (t.load < best.load ? t : best));
  const on = async <T>(thread: (typeof threads)[number], weight: number, work: () => Promise<T>): Promise<T> => {
    thread.load += weight;
    try {
      return await work();
    } finally {
      thread.load -= weight;
    }
  };
  return {
    run: (job) => {
      const thread = idlest();
      return on(thread, 1, () => thread.pool.run(job));
    },
    read: (key, group, photos, told, { pictures }) => {
      const thread = homes.get(key) ?? idlest();
      homes.set(key, thread);
      const job = { kind: "read-kept" as const, key, group, photos, told, pictures };
      return on(thread, photos.length, () => thread.pool.run(job)).catch((error) => lostGroup(group, error));
    },
    rehearse: () => {
      const newest = new Map([...homes].map(([key, thread]) => [thread, key] as const));
      return Promise.allSettled(
        [...newest].map(([thread, key]) => on(thread, 1, () => thread.pool.run({ kind: "rehearse", key }))),
      );
    },
    check: (photo) => {
      const thread = idlest();
      return on(thread, 1, () => thread.pool.run({ kind: "check", photo }) as Promise<JobResults["check"]>);
    },
    close: async () => {
      await Promise.all(threads.map((t) => t.pool.close()));
    },
  };
}
