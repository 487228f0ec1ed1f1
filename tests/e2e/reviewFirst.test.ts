import { afterAll, beforeAll, expect, it } from "vitest";
import type { ShownReading } from "../../src/review/server/index.ts";
import { sampleInput } from "../report/support/samplePictures.ts";
import { sampleResult } from "../report/support/sampleResult.ts";
import { eventually, type House, openHouse, type Tab } from "../review/support/openTab.ts";
import { readingOf, type SampleReader, sampleReader } from "../review/support/sampleReader.ts";

/** The page while a folder is read for the first time. The tests follow each other. */
let house: House;
let tab: Tab;
let reader: SampleReader;
let whole: ShownReading;

beforeAll(async () => {
  house = await openHouse();
  const result = sampleResult({ tubes: 16, lanesPerPlate: 8 });
  whole = readingOf(await sampleInput(result), result);
  reader = sampleReader(null);
  tab = await house.open(reader, { viewport: { width: 1180, height: 820 }, colorScheme: "light" });
}, 60_000);
afterAll(() => house?.close());

const names = (what: string) =>
  tab.page.locator(`[data-${what}]`).evaluateAll((all, w) => all.map((e) => e.getAttribute(`data-${w}`)), what);

it("comes up at once, and says what it is doing", async () => {
  reader.say({ busy: true, done: 0, of: 0 });
  await tab.page.getByRole("heading", { name: "Looking into the folder" }).waitFor();
});

it("shows each photo as soon as it has been read, with its plate and a verdict, and which are still to come", async () => {
  const files = whole.result.photos.map((p) => p.file);
  const part = (n: number): ShownReading => {
    const some = new Set(files.slice(0, n));
    const { result } = whole;
    const photos = result.photos.filter((p) => some.has(p.file));
    const plates = result.plates.filter((p) => p.photos.every((file) => some.has(file)));
    const undecided = { components: [], fractions: [], pools: [], profiles: [], policies: [], advice: [] };
    return {
      result: { ...result, ...undecided, photos, plates },
      straightened: [],
      photos: whole.photos.filter((p) => some.has(p.file)),
    };
  };
  reader.readPart(null, files);
  reader.say({ busy: true, done: 0, of: files.length });
  await eventually(() => names("ahead")).toEqual(files);
  reader.say({ done: 2 });
  reader.readPart(part(2), files);
  await eventually(() => names("read")).toEqual(files.slice(0, 2));
  expect(await names("ahead")).toEqual(files.slice(2));
  const first = tab.page.locator("[data-read]").first();
  expect(await first.locator(".verdict").textContent()).toMatch(/^254 nm: \d+ lanes, \d+ spots/);
  // The picture is there, and what was found lies over it.
  const href = await first.locator("image").getAttribute("href");
  expect((await tab.page.request.get(new URL(href!, tab.page.url()).href)).status()).toBe(200);
  expect(await first.locator("svg path").count()).toBeGreaterThan(4);
  expect(await tab.page.locator("progress").getAttribute("value")).toBe("2");
  expect(await tab.page.locator("button[data-tube]").count()).toBe(0);
});

it("a photo that cannot be read is told among the others", async () => {
  const bad = { ...whole.result.photos[0], file: "blurred.jpg", status: "rejected" as const, plates: [] };
  const photos = [{ ...bad, reason: "No TLC plate was found in this photo." }];
  reader.readPart({ ...whole, photos: [], result: { ...whole.result, photos, plates: [] } }, ["blurred.jpg"]);
  await eventually(() => tab.page.locator('[data-read="blurred.jpg"] .verdict').textContent()).toBe(
    "Not read: No TLC plate was found in this photo.",
  );
});

it("then the tubes stand there, by themselves", async () => {
  reader.read(whole);
  reader.say({ busy: false, done: 4, of: 4 });
  await tab.page.locator('button[data-tube="16"]').waitFor();
  expect(await tab.page.locator("progress").count()).toBe(0);
  expect(tab.faults).toEqual([]);
});
