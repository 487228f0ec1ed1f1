import { appendFileSync, existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { acceptPools, presentDivision, splitPool } from "../../../src/decisions/index.ts";
import type { Act, Decisions, Result } from "../../../src/model/index.ts";
import { openDesk } from "../../../src/review/server/desk.ts";
import { drawnResult } from "../../decisions/sampleRun.ts";
import { sampleReader } from "../support/sampleReader.ts";

const AT = "2026-03-04T05:06:07.000Z";
let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "desk-"));
});
afterEach(() => rmSync(folder, { recursive: true }));

const reading = (result: Result) => ({ result, straightened: [], photos: [] });
const result = drawnResult("AAAxBB.");
const acceptAll: Act = { kind: "divide", ...acceptPools(result, presentDivision(result, null), null) };

async function desk(first: Result | null = result) {
  const reader = sampleReader(first && reading(first));
  const news: number[] = [];
  const opened = await openDesk({ folder, reader, clock: () => AT, onNews: (revision) => news.push(revision) });
  return { reader, news, ...opened };
}

const journal = () => readFileSync(join(folder, "decisions.jsonl"), "utf8").trim().split("\n").slice(1);

describe("an act", () => {
  it("is on disk when it is called saved, with its time and what it was decided on", async () => {
    const { act } = await desk();
    const answer = await act({ last: 0, act: acceptAll });
    expect(answer).toMatchObject({ saved: { id: 1, at: AT } });
    const kept = JSON.parse(journal()[0]);
    expect(kept).toMatchObject({ id: 1, at: AT, act: { kind: "divide", done: "accept" } });
    expect(kept.on).toMatch(/^[0-9a-f]{16}$/);
  });

  it("shows in the state, and every open page hears of it", async () => {
    const { act, state, news } = await desk();
    const before = state().revision;
    await act({ last: 0, act: acceptAll });
    expect(state()).toMatchObject({ last: 1, undo: 1, redo: null });
    expect(state().division?.pools.every((p) => p.accepted)).toBe(true);
    expect(state().history).toMatchObject([{ id: 1, stands: true }]);
    await expect.poll(() => Math.max(...news)).toBeGreaterThan(before);
    // A change of the journal and what follows from it in the same turn are one piece of news.
    expect(news).toHaveLength(1);
  });

  it("is followed once, though the journal tells of it before it is called saved", async () => {
    const followed: number[] = [];
    const reader = {
      ...sampleReader(reading(result)),
      follow: async ({ last }: { last: number }) => void followed.push(last),
    };
    let heard: Parameters<typeof reader.onChange>[0] = () => undefined;
    reader.onChange = (listener) => {
      heard = listener;
    };
    const { act } = await openDesk({ folder, reader, clock: () => AT, onNews: () => undefined });
    const answer = act({ last: 0, act: acceptAll });
    await expect.poll(() => existsSync(join(folder, "decisions.jsonl"))).toBe(true);
    heard("journal");
    await answer;
    await act({ last: 1, act: { kind: "undo", of: 1 } });
    expect(followed).toEqual([1, 2]);
  });

  it("decided on a state that is no longer the newest is refused, and nothing is kept", async () => {
    const { act } = await desk();
    await act({ last: 0, act: acceptAll });
    const late = await act({
      last: 0,
      act: { kind: "divide", ...splitPool(result, presentDivision(result, null), "1", 3) },
    });
    expect(late).toMatchObject({ code: "decision-overtaken", state: { last: 1 } });
    expect(journal()).toHaveLength(1);
  });

  it("that comes while another is being kept waits for it", async () => {
    const { act } = await desk();
    const [first, second] = await Promise.all([
      act({ last: 0, act: acceptAll }),
      act({ last: 1, act: { kind: "undo", of: 1 } }),
    ]);
    expect("saved" in first && "saved" in second).toBe(true);
    expect(second.state).toMatchObject({ last: 2, undo: null, redo: 1, division: null });
  });

  it("that is none is refused in words", async () => {
    const { act } = await desk();
    const wrong = [
      null,
      {},
      { last: 0 },
      { last: 0, act: { kind: "wipe" } },
      { last: "0", act: acceptAll },
      { last: -1, act: acceptAll },
    ];
    for (const request of wrong) expect(await act(request)).toMatchObject({ code: "decision-act" });
    const twice = { kind: "divide", done: "move", pools: [] };
    expect(await act({ last: 0, act: twice })).toMatchObject({ code: "decision-tubes" });
    expect(() => journal()).toThrow();
  });

  it("cannot be decided on nothing", async () => {
    const { act } = await desk(null);
    expect(await act({ last: 0, act: acceptAll })).toMatchObject({ code: "decision-nothing" });
  });
});

describe("an act that may be about to come", () => {
  const plate = { photos: result.plates[0].photos, place: 0 };
  const mend = (y: number): Act => ({ kind: "mend", mending: { what: "origin", plate, y } });

  it("is read ahead as if it had come, and nothing is kept or told of it", async () => {
    const read: unknown[] = [];
    const reader = { ...sampleReader(reading(result)), readAhead: async (d: Decisions) => void read.push(d) };
    const news: number[] = [];
    const { ahead, act, state } = await openDesk({ folder, reader, clock: () => AT, onNews: (n) => news.push(n) });
    await ahead({ last: 0, act: mend(0.9) });
    expect(read).toMatchObject([{ last: 1, plates: [{ origin: 0.9 }] }]);
    read.length = 0;
    expect(existsSync(join(folder, "decisions.jsonl"))).toBe(false);
    expect([state().last, news]).toEqual([0, []]);
    const kept = act({ last: 0, act: mend(0.9) });
    // What has come is read while it is being kept.
    expect(read).toMatchObject([{ last: 1, plates: [{ origin: 0.9 }] }]);
    await kept;
    await ahead({ last: 1, act: mend(0.91) });
    expect(read[1]).toMatchObject({ last: 2, plates: [{ origin: 0.91 }] });
  });

  it("is kept when it comes, though it could not be read ahead", async () => {
    const readAhead = () => Promise.reject(new Error("a photo is gone"));
    const reader = { ...sampleReader(reading(result)), readAhead };
    const { act } = await openDesk({ folder, reader, clock: () => AT, onNews: () => undefined });
    expect(await act({ last: 0, act: mend(0.9) })).toMatchObject({ saved: { id: 1 } });
  });

  it("is passed over where it could not be, or changes no reading", async () => {
    const read: unknown[] = [];
    const reader = { ...sampleReader(reading(result)), readAhead: async (d: Decisions) => void read.push(d) };
    const { ahead } = await openDesk({ folder, reader, clock: () => AT, onNews: () => undefined });
    for (const request of [
      null,
      {},
      { last: 7, act: mend(0.9) },
      { last: 0, act: mend(7) },
      { last: 0, act: acceptAll },
    ])
      await ahead(request);
    expect(read).toEqual([]);
  });
});

describe("the tube log", () => {
  const write = (entry: object) => ({ kind: "log", entry });
  it("is written as an act of its own, stands above run.yaml, and the volumes follow", async () => {
    const { act, state } = await desk();
    expect(state().volumesMl).toEqual(Array(7).fill(10));
    await act({ last: 0, act: write({ from: 2, to: 3, volumeMl: 12.5, note: "<i>cloudy</i>" }) });
    expect(state().volumesMl).toEqual([10, 12.5, 12.5, 10, 10, 10, 10]);
    expect(state().tubeLog.notes).toMatchObject([{ from: 2, to: 3, note: "<i>cloudy</i>", typed: true }]);
    expect(state().history[0].words).toBe("tube log, tubes 2-3: 12.5 mL, note: <i>cloudy</i>");
    expect(state().division).toBeNull();
    await act({ last: 1, act: { kind: "undo", of: 1 } });
    expect(state().volumesMl).toEqual(Array(7).fill(10));
  });

  it("what cannot be is refused, and nothing is kept", async () => {
    const { act } = await desk();
    for (const entry of [
      { from: 2, to: 9, volumeMl: 1 },
      { from: 2, to: 2, volumeMl: -1 },
      { from: 2, to: 2 },
    ])
      expect(await act({ last: 0, act: write(entry) })).toMatchObject({ code: "decision-log" });
    expect(await act({ last: 0, act: write({ from: 2, to: 2, volumeMl: "ten" }) })).toMatchObject({
      code: "decision-act",
    });
    expect(() => journal()).toThrow();
  });

  it("stays when a new reading comes", async () => {
    const { act, reader, state } = await desk();
    await act({ last: 0, act: write({ from: 2, to: 2, volumeMl: 25 }) });
    reader.read(reading(drawnResult("AxAxBB.")));
    expect(state().volumesMl[1]).toBe(25);
  });
});

describe("two reviews of one folder", () => {
  it("lose nothing: the second is told that something else was decided, and sees it", async () => {
    const one = await desk();
    const two = await desk();
    await one.act({ last: 0, act: acceptAll });
    const answer = await two.act({ last: two.state().last, act: acceptAll });
    expect(answer).toMatchObject({ code: "decision-overtaken", state: { last: 1 } });
    expect("saved" in (await two.act({ last: 1, act: { kind: "undo", of: 1 } }))).toBe(true);
    expect(journal()).toHaveLength(2);
  });

  it("the one hears what the other kept", async () => {
    const one = await desk();
    const two = await desk();
    await one.act({ last: 0, act: acceptAll });
    two.reader.hear();
    await expect.poll(() => two.state().last).toBe(1);
  });
});

describe("a new reading", () => {
  it("never touches what was decided; where it disagrees, that is said", async () => {
    const { act, reader, state } = await desk();
    await act({ last: 0, act: acceptAll });
    const division = state().division;
    reader.read(reading(drawnResult("AxAxBB.")));
    expect(state().division).toEqual(division);
    expect(state().contradictions).toMatchObject([{ code: "clean-now-mixed", pool: "1", fraction: 2 }]);
  });

  it("brings its tubes' volumes and its pictures", async () => {
    const { reader, state } = await desk(null);
    expect(state().result).toBeNull();
    reader.read(reading(result));
    expect(state().volumesMl).toEqual([10, 10, 10, 10, 10, 10, 10]);
  });
});

it("a journal of a newer format is told and left alone; what is done is refused until it is moved away", async () => {
  const path = join(folder, "decisions.jsonl");
  const foreign = '{"format":"platepool.decisions/2"}\n{"id":1}\n';
  writeFileSync(path, foreign);
  const { act, state, reader } = await desk();
  expect(state().shut).toContain("is of format platepool.decisions/2");
  expect(await act({ last: 0, act: acceptAll })).toMatchObject({ code: "decisions-format" });
  expect(readFileSync(path, "utf8")).toBe(foreign);
  rmSync(path);
  reader.hear();
  await expect.poll(() => state().shut).toBeNull();
  expect("saved" in (await act({ last: 0, act: acceptAll }))).toBe(true);
});

it("a journal that is torn is told", async () => {
  const { act } = await desk();
  await act({ last: 0, act: acceptAll });
  appendFileSync(join(folder, "decisions.jsonl"), '{"id":2,"at":');
  expect((await desk()).state().journalFaults[0]).toContain("breaks off");
});
