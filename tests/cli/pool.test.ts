import { afterEach, describe, expect, it } from "vitest";
import { openPool, type WorkerPool } from "../../src/cli/workers/pool.ts";

let pool: WorkerPool;
afterEach(() => pool.close());

const job = (file: string) =>
  ({
    kind: "read",
    group: { photos: [{ file, light: null, stain: null }], plates: null },
    photos: [{ file, path: `/nowhere/${file}` }],
    pictures: false,
  }) as const;

describe.each([1, 2])("a pool of %i", (size) => {
  it("does all jobs, and each answer belongs to its question", async () => {
    pool = openPool(size);
    const files = ["a.jpg", "b.jpg", "c.jpg", "d.jpg", "e.jpg"];
    const readings = await Promise.all(files.map((f) => pool.run(job(f))));
    expect(readings.map((r) => r.photos[0].file)).toEqual(files);
    expect(readings.every((r) => r.photos[0].reason?.includes("has gone"))).toBe(true);
  });

  it("a job that fails is rejected, and the next one is done", async () => {
    pool = openPool(size);
    const bad = pool.run({ kind: "annotate", photo: new Uint8Array([1, 2, 3]), svg: "" });
    await expect(bad).rejects.toThrow();
    expect((await pool.run(job("a.jpg"))).photos).toHaveLength(1);
  });
});
