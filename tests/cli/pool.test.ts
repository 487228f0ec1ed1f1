import sharp from "sharp";
import { afterEach, describe, expect, it } from "vitest";
import { openPool, openThreads, type WorkerPool } from "../../src/cli/workers/pool.ts";

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

/** In which order a slow job and a quick one, asked in this order, are answered. */
async function answers(): Promise<string[]> {
  const create = { width: 1500, height: 1500, channels: 3 as const, background: "#7a9" };
  const photo = await sharp({ create }).jpeg().toBuffer();
  const svg = '<svg xmlns="http://www.w3.org/2000/svg" width="1500" height="1500"/>';
  const told: string[] = [];
  await Promise.all([
    pool.run({ kind: "annotate", photo, svg }).then(() => told.push("slow")),
    pool.run({ kind: "check", photo: { file: "a.jpg", path: "/nowhere/a.jpg" } }).then(() => told.push("quick")),
  ]);
  return told;
}

describe("jobs begun together", () => {
  it.each([1, 2])("a quick one need not wait for the pictures of a slow one, in a pool of %i", async (size) => {
    pool = openPool(size);
    await answers();
    expect(await answers()).toEqual(["quick", "slow"]);
  });

  it("a thread that may begin one only answers in the order it was asked", async () => {
    pool = openThreads(1, 1);
    expect(await answers()).toEqual(["slow", "quick"]);
  });
});
