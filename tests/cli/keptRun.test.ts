import { copyFileSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { Crew } from "../../src/cli/watching/crew.ts";
import { keepRun } from "../../src/cli/watching/keptRun.ts";
import { replay } from "../../src/decisions/index.ts";
import type { Act, Decisions } from "../../src/model/index.ts";
import type { GroupReading, PhotoGroup, RunReading } from "../../src/pipeline/index.ts";
import type { Standing } from "../../src/plate/upright/index.ts";
import { keepAct } from "../../src/store/index.ts";
import { groupOf, plate } from "../pipeline/sampleReadings.ts";

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "kept-"));
  for (const file of ["p1.jpg", "p2.jpg", "p3.jpg"]) writeFileSync(join(folder, file), `photo ${file}`);
});
afterEach(() => rmSync(folder, { recursive: true }));

const rehearse = async () => undefined;

/** A crew that looks at no photo and says what it was asked for. */
function bench(arriving: readonly string[] = []) {
  const asked: string[] = [];
  const readings: RunReading[] = [];
  const told: boolean[] = [];
  const away = new Set(arriving.map((file) => join(folder, file)));
  const read: Crew["read"] = async (_, { photos }, _files, _mendings, { pictures }): Promise<GroupReading> => {
    asked.push(`${photos.map((p) => p.file).join("+")}${pictures ? "" : " without pictures"}`);
    const blank = { light: "uv254" as const, quality: null, width: 0, height: 0, picture: null };
    return {
      photos: photos.map(({ file }) => ({ file, reason: "no plate in it", ...blank })),
      ...{ plates: [], findings: [], crashes: [] },
    };
  };
  const run = keepRun({
    ...{ folder, settings: { policy: "balance", want: null }, crew: { read, rehearse }, arriving: () => away },
    onReading: (reading) => readings.push(reading),
    onProgress: () => told.push(run.progress.busy),
    onGroup: () => undefined,
  });
  return { run, asked, readings, away, told };
}

const files = (reading: RunReading | null) => reading?.result.photos.map((p) => p.file);

describe("the first reading of a folder", () => {
  it("shows each photo as soon as it is read, and says which are still to come", async () => {
    const waiting = new Map<string, (value: GroupReading) => void>();
    const seen: (string[] | null)[] = [];
    const crew = {
      read: (_: string, { photos: [{ file }] }: PhotoGroup) =>
        new Promise<GroupReading>((resolve) => {
          waiting.set(file, resolve);
        }),
      rehearse,
    };
    const run = keepRun({
      ...{ folder, settings: { policy: "balance", want: null }, crew, arriving: () => new Set<string>() },
      onReading: () => undefined,
      onProgress: () => seen.push(run.soFar?.result.photos.map((p) => p.file) ?? null),
      onGroup: () => undefined,
    });
    const ended = run.renew();
    expect(run.progress.busy).toBe(true);
    const size = { light: "uv254" as const, quality: null, width: 4, height: 3 };
    for (const file of ["p2.jpg", "p1.jpg", "p3.jpg"]) {
      await expect.poll(() => waiting.has(file)).toBe(true);
      const picture = { width: 4, height: 3, bytes: new Uint8Array([file.charCodeAt(1)]) };
      const photo = { file, reason: null, ...size, picture };
      waiting.get(file)!({ photos: [photo], plates: [], findings: [], crashes: [] });
      if (file !== "p3.jpg") await expect.poll(() => run.soFar?.photos.at(-1)).toBeDefined();
      await new Promise((done) => setTimeout(done, 10));
    }
    await ended;
    expect(seen).toContainEqual(["p2.jpg"]);
    expect(seen).toContainEqual(["p1.jpg", "p2.jpg"]);
    expect(run.soFar).toBeNull();
    expect(files(run.reading)).toEqual(["p1.jpg", "p2.jpg", "p3.jpg"]);
  });
});

describe("a run that is kept", () => {
  it("reads nothing anew when it looks again, though one of many plates was turned like the others", async () => {
    for (let i = 4; i <= 20; i++) writeFileSync(join(folder, `p${i}.jpg`), `photo ${i}`);
    const asked: string[] = [];
    const standing = (p: number[]) => p.map(Math.log) as unknown as Standing;
    const read = async (_: string, { photos: [{ file, up }] }: PhotoGroup): Promise<GroupReading> => {
      asked.push(up === undefined ? file : `${file} ${up}`);
      const unclear = file === "p7.jpg";
      const way = unclear
        ? { file, standing: standing([0.3, 0.05, 0.6, 0.05]), turn: 0 as const }
        : { file, standing: standing([0.01, 0.01, 0.97, 0.01]), turn: 2 as const };
      return { photos: [], plates: [], findings: [], crashes: [], ways: up === undefined ? [way] : [] };
    };
    const run = keepRun({
      ...{
        folder,
        settings: { policy: "balance", want: null },
        crew: { read, rehearse },
        arriving: () => new Set<string>(),
      },
      ...{ onReading: () => undefined, onProgress: () => undefined, onGroup: () => undefined },
    });
    await run.renew();
    expect(asked).toHaveLength(21);
    expect(asked).toContain("p7.jpg down");
    await run.renew();
    expect(asked).toHaveLength(21);
  });

  it("shows the pictures of the reading that counts, though a plate was tried another way up", async () => {
    const logs = (p: number[]) => p.map(Math.log) as unknown as Standing;
    const row = [1, 2, 3, 4].map(() => [[0.3, 5] as const]);
    const read = async (_: string, { photos: [{ file, up }] }: PhotoGroup): Promise<GroupReading> => {
      asked.push(up === undefined ? file : `${file} ${up}`);
      const picture = { file, light: "uv254" as const, stain: null, width: 1, height: 1 };
      const straightened = [{ ...picture, bytes: Uint8Array.of(up === undefined ? 1 : 2) }];
      const few = file === "p2.jpg";
      const one = groupOf(plate(file, few ? [[[0.6, 5]], [], [], []] : row), { straightened });
      const way = {
        file,
        standing: logs(few ? [0.5, 0.02, 0.46, 0.02] : [0.998, 0.0005, 0.001, 0.0005]),
        turn: 0 as const,
      };
      return up === undefined ? { ...one, ways: [way] } : one;
    };
    const asked: string[] = [];
    const run = keepRun({
      ...{ folder, settings: { policy: "balance", want: null }, crew: { read, rehearse } },
      ...{ arriving: () => new Set<string>(), onReading: () => undefined, onProgress: () => undefined },
      onGroup: () => undefined,
    });
    await run.renew();
    expect(asked).toContain("p2.jpg down");
    expect(run.reading?.straightened.map(({ bytes }) => [...bytes])).toEqual([[1], [1], [1]]);
  });

  it("is read beside a journal that cannot be used, and read with it once that is mended", async () => {
    const path = join(folder, "decisions.jsonl");
    writeFileSync(path, '{"format":"platepool.decisions/9"}\n');
    const { run, readings } = bench();
    await run.renew();
    expect(run.progress.fault).toBeNull();
    expect(files(run.reading)).toEqual(["p1.jpg", "p2.jpg", "p3.jpg"]);
    expect(run.reading?.result.warnings.map((w) => w.code)).toContain("decisions-format");
    rmSync(path);
    await run.renew();
    expect(readings.at(-1)?.result.warnings.map((w) => w.code)).not.toContain("decisions-format");
  });

  it("reads every photo once, and afterwards only what changed, told by content and not by time", async () => {
    const { run, asked } = bench();
    await run.renew();
    expect(asked.sort()).toEqual(["p1.jpg", "p2.jpg", "p3.jpg"]);
    asked.length = 0;
    await run.renew();
    writeFileSync(join(folder, "p2.jpg"), "photo p2.jpg");
    await run.renew();
    expect(asked).toEqual([]);
    writeFileSync(join(folder, "p2.jpg"), "another photo");
    await run.renew();
    expect(asked).toEqual(["p2.jpg"]);
  });

  it("takes in what comes and lets go of what is taken away", async () => {
    const { run, asked } = bench();
    await run.renew();
    copyFileSync(join(folder, "p1.jpg"), join(folder, "p4.jpg"));
    rmSync(join(folder, "p3.jpg"));
    await run.renew();
    expect(files(run.reading)).toEqual(["p1.jpg", "p2.jpg", "p4.jpg"]);
    expect(asked.slice(3)).toEqual(["p4.jpg"]);
  });

  it("leaves out a photo that is still arriving", async () => {
    const { run, away } = bench(["p2.jpg"]);
    await run.renew();
    expect(files(run.reading)).toEqual(["p1.jpg", "p3.jpg"]);
    expect(run.progress.arriving).toEqual(["p2.jpg"]);
    away.clear();
    await run.renew();
    expect(files(run.reading)).toEqual(["p1.jpg", "p2.jpg", "p3.jpg"]);
  });

  it("many calls at once are answered by one more look", async () => {
    const { run, readings } = bench();
    await Promise.all([run.renew(), run.renew(), run.renew(), run.renew()]);
    expect(readings.length).toBeLessThanOrEqual(2);
  });

  it("a wrong run file is told, the reading in hand stays, and all goes on once it is mended", async () => {
    const { run } = bench();
    await run.renew();
    const before = run.reading;
    writeFileSync(join(folder, "run.yaml"), "fractons: { count: 3 }\n");
    await run.renew();
    expect(run.progress.fault).toContain("run.yaml line 1");
    expect(run.reading).toBe(before);
    writeFileSync(join(folder, "run.yaml"), "run: mended\n");
    await run.renew();
    expect(run.progress.fault).toBeNull();
    expect(run.reading?.result.run).toBe("mended");
  });

  it("a mending reads its plate's photos alone, without a word of progress; taken back, it reads nothing", async () => {
    const { run, asked, told } = bench();
    await run.renew();
    asked.length = 0;
    told.length = 0;
    const keep = (act: Act) => keepAct(folder, "2026-02-03T10:00:00.000Z", () => ({ act, on: null }));
    const plate = { photos: ["p2.jpg"], place: 0 };
    await keep({ kind: "mend", mending: { what: "origin", plate, y: 0.8 } });
    await run.renew();
    // Decided on before its pictures are there.
    const once = ["p2.jpg without pictures", "p2.jpg"];
    expect(asked).toEqual(once);
    await keep({ kind: "undo", of: 1 });
    await run.renew();
    await keep({ kind: "redo", of: 1 });
    await run.renew();
    expect(asked).toEqual(once);
    expect(run.reading?.result.decisions?.mendings.plates).toHaveLength(1);
    expect(told).toEqual([]);
  });

  it("what may be about to come is read ahead once, without a word; when it comes, nothing is left to be read", async () => {
    const { run, asked, readings, told } = bench();
    await run.renew();
    const shown = readings.length;
    asked.length = 0;
    told.length = 0;
    const plate = { photos: ["p2.jpg"], place: 0 };
    const act = (y: number): Act => ({ kind: "mend", mending: { what: "origin", plate, y } });
    const line = (y: number) => ({ id: 1, at: "2026-02-03T10:00:00.000Z", on: null, act: act(y) });
    const once = ["p2.jpg without pictures", "p2.jpg"];
    for (const y of [0.7, 0.8, 0.8]) await run.readAhead(replay([line(y)]).decisions);
    expect(asked).toEqual([...once, ...once]);
    expect([readings.length, told]).toEqual([shown, []]);
    await keepAct(folder, line(0.8).at, () => ({ act: act(0.8), on: null }));
    await run.renew();
    expect(asked).toHaveLength(4);
    expect(run.reading?.result.decisions?.mendings.plates).toMatchObject([{ origin: 0.8 }]);
    // Of what was read ahead in vain nothing is kept.
    await run.readAhead(replay([line(0.7)]).decisions);
    expect(asked).toHaveLength(6);
  });

  it("reads nothing ahead before the first reading, nor of a photo that has changed since", async () => {
    const { run, asked } = bench();
    const plate = { photos: ["p2.jpg"], place: 0 };
    const act: Act = { kind: "mend", mending: { what: "origin", plate, y: 0.8 } };
    const { decisions } = replay([{ id: 1, at: "2026-02-03T10:00:00.000Z", on: null, act }]);
    await run.readAhead(decisions);
    expect(asked).toEqual([]);
    await run.renew();
    writeFileSync(join(folder, "p2.jpg"), "another photo");
    await run.readAhead(decisions);
    expect(asked).toHaveLength(3);
  });

  it("a division changes no reading: nothing is read, and the result knows it", async () => {
    const { run, asked } = bench();
    await run.renew();
    const before = run.reading!;
    const none = { plates: [], components: [], log: [], undo: 1, redo: null };
    const decided: Decisions = { last: 1, division: { act: 1, at: "", pools: [] }, ...none };
    asked.length = 0;
    await run.follow(decided);
    expect(asked).toEqual([]);
    expect(run.reading?.result.decisions?.last).toBe(1);
    expect(run.reading?.plates).toBe(before.plates);
  });
});
