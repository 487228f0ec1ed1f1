import { copyFileSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Browser, BrowserContext, Locator, Page } from "playwright-core";
import { afterAll, beforeAll, expect, it } from "vitest";
import { openSession, type WatchSession } from "../../src/cli/watching/session.ts";
import type { JournalLine } from "../../src/model/index.ts";
import { openReview, type Review } from "../../src/review/server/index.ts";
import { eventually } from "../review/support/openTab.ts";
import { startBrowser } from "../support/browser.ts";
import { bundlePage } from "../support/page.ts";

/**
 * The review in a real Chromium, on one real reading of a small run. The tests follow each other, as a person would go
 * on; a second plate arrives while the page is open.
 */
const folder = mkdtempSync(join(tmpdir(), "review-"));
const RUN_YAML = `run: <b>chalcone</b>-14
fractions: { count: 18, volume_ml: 10 }
plates:
  - photos: [{ file: plate-1.jpg, light: uv254 }]
    lanes: [1-14]
  - photos: [{ file: plate-2.jpg, light: white, stain: anisaldehyde }]
    lanes: [15-18, other-1, other-2, other-3, other-4, other-5, other-6, other-7, other-8]
`;
const PLATE_1 = "fixtures/runs/normal-30/plate-01a.jpg";
const PLATE_2 = "fixtures/runs/easy-6/plate-01a.jpg";

let session: WatchSession;
let review: Review;
let browser: Browser;
let context: BrowserContext;
let page: Page;
let pageDir: string;
const faults: string[] = [];

beforeAll(async () => {
  writeFileSync(join(folder, "run.yaml"), RUN_YAML);
  copyFileSync(PLATE_1, join(folder, "plate-1.jpg"));
  [pageDir, browser] = await Promise.all([bundlePage(), startBrowser()]);
  const flags = { policy: "balance" as const, workers: 1, quiet: true };
  const silent = { onReading: () => undefined, onGroup: () => undefined, onFault: (f: string) => faults.push(f) };
  session = await openSession(folder, flags, silent);
  const { reader } = session;
  const sheet = async () => "<!doctype html><title>sheet</title>";
  review = await openReview({ folder, reader, port: 0, clock: () => new Date().toISOString(), sheet, pageDir });
  context = await browser.newContext({ viewport: { width: 1280, height: 900 }, colorScheme: "light" });
  page = await open(review.link);
  await session.start();
});

afterAll(async () => {
  await browser?.close();
  await review?.close();
  await session?.close(true);
  for (const dir of [folder, pageDir]) if (dir) rmSync(dir, { recursive: true, force: true });
});

/** A tab that tells of everything that goes wrong in it. */
async function open(link: string): Promise<Page> {
  const tab = await context.newPage();
  tab.setDefaultTimeout(8000);
  tab.on("pageerror", (error) => faults.push(error.message));
  tab.on("console", (message) => message.type() === "error" && faults.push(message.text()));
  tab.on("request", (request) => {
    if (!request.url().startsWith(`http://127.0.0.1:${review.port}/`)) faults.push(`asked for ${request.url()}`);
  });
  await tab.goto(link);
  return tab;
}

const tube = (n: number, tab = page) => tab.locator(`button[data-tube="${n}"]`);
const safety = (tab = page) => tab.locator("[data-safety]");
const saved = async (tab = page) => {
  await eventually(() => safety(tab).getAttribute("data-safety")).toBe("safe");
};
const journal = (): JournalLine[] =>
  readFileSync(join(folder, "decisions.jsonl"), "utf8")
    .trim()
    .split("\n")
    .slice(1)
    .map((line) => JSON.parse(line));
const inHand = (tab = page) => tab.locator("[data-in-hand]").first().getAttribute("data-in-hand");
/** What the pools hold, read off the page: "1: 1–4; 2: 5 ...". */
const division = async (tab = page) =>
  (await tab.locator("tr[data-pool-row]").all()).reduce(async (before, row) => {
    const cells = [await row.getAttribute("data-pool-row"), await row.locator("td").first().textContent()];
    return `${await before}${cells.join(": ")}; `;
  }, Promise.resolve(""));
async function middleOf(locator: Locator): Promise<{ x: number; y: number }> {
  const { x, y, width, height } = (await locator.boundingBox())!;
  return { x: x + width / 2, y: y + height / 2 };
}

it("opens with every tube, its pool and the lane that the suggestion rests on", async () => {
  await tube(1).waitFor();
  expect(await page.locator("button[data-tube]").count()).toBe(18);
  expect(await page.locator("button.strip").count()).toBeGreaterThanOrEqual(14);
  expect(await page.locator("[data-pool]").count()).toBeGreaterThan(1);
  expect(await safety().textContent()).toContain("Nothing decided yet");
  // The key does not stay in the address bar; a name with markup in it is text.
  expect(page.url()).toBe(`http://127.0.0.1:${review.port}/`);
  expect(await page.locator("h1").textContent()).toBe("<b>chalcone</b>-14");
});

it("walks through the doubts, each of them told", async () => {
  const next = page.getByRole("button", { name: /Next doubt/ });
  const count = Number(/\((\d+)\)/.exec((await next.textContent())!)![1]);
  const met: (string | null)[] = [];
  for (let i = 0; i < count; i++) {
    await next.click();
    met.push(await inHand());
  }
  expect(new Set(met).size).toBe(count);
  expect(met.every((m) => /^tube \d+$/.test(m ?? ""))).toBe(true);
  await next.click();
  expect(await inHand()).toBe(met[0]);
});

it("an end of a bracket is dragged: figures follow at once, and what is let go is saved", async () => {
  const before = await division();
  const grip = page.locator(".grip").first();
  const from = await middleOf(grip);
  const step = (await tube(2).boundingBox())!.width;
  await page.mouse.move(from.x, from.y);
  await page.mouse.down();
  await page.mouse.move(from.x + step * 0.6, from.y + 5, { steps: 4 });
  expect(await inHand()).toBe("boundary");
  const onTheWay = await division();
  expect(onTheWay).not.toBe(before);
  await page.mouse.move(from.x + step, from.y, { steps: 2 });
  await page.mouse.up();
  await saved();
  expect(await division()).toBe(onTheWay);
  expect(journal()).toMatchObject([{ id: 1, act: { kind: "divide", done: expect.stringMatching(/boundary|merge/) } }]);

  await page.getByRole("button", { name: "Undo" }).click();
  await saved();
  expect(await division()).toBe(before);
  await page.keyboard.press("Control+y");
  await eventually(() => division()).toBe(onTheWay);
  await page.keyboard.press("Control+z");
  await eventually(() => division()).toBe(before);
  await saved();
});

it("the same by keyboard alone", async () => {
  const before = await division();
  const grip = page.locator(".grip").first();
  await grip.focus();
  const told = await grip.getAttribute("aria-valuetext");
  await page.keyboard.press("ArrowRight");
  expect(await grip.getAttribute("aria-valuetext")).not.toBe(told);
  await page.keyboard.press("Escape");
  expect(await division()).toBe(before);
  await page.keyboard.press("ArrowRight");
  await page.keyboard.press("Enter");
  await saved();
  expect(await division()).not.toBe(before);
  await page.keyboard.press("Control+z");
  await eventually(() => division()).toBe(before);
  await tube(1).focus();
  await page.keyboard.press("ArrowRight");
  expect(await inHand()).toBe("tube 2");
});

it("a pool is split, named, joined", async () => {
  const before = await division();
  const wide = (await page.locator("tr[data-pool-row]").all())[1];
  const name = (await wide.getAttribute("data-pool-row"))!;
  const tubes = await wide.locator("td").first().textContent();
  const last = Number(/\d+$/.exec(tubes!)![0]);
  await tube(last).click();
  await page.getByRole("button", { name: "New pool from here" }).click();
  await saved();
  expect(await page.locator("tr[data-pool-row]").count()).toBe(before.split(";").length);
  await page.locator(`button[data-pool="${name}"]`).click();
  await page.getByLabel("Name").fill('<i>best</i> "cut"');
  await page.keyboard.press("Enter");
  await saved();
  expect(await page.locator("button.poolname", { hasText: '<i>best</i> "cut"' }).count()).toBe(1);
  await page
    .getByRole("button", { name: /^Join with/ })
    .last()
    .click();
  await saved();
  expect((await division()).split(";").length).toBe(before.split(";").length);
});

it("what was decided is there in a second tab, and each hears of the other", async () => {
  const other = await open(`http://127.0.0.1:${review.port}/`);
  await tube(1, other).waitFor();
  expect(await division(other)).toBe(await division());
  await tube(3, other).click();
  await other.getByRole("button", { name: "Set apart" }).click();
  await saved(other);
  await eventually(() => division()).toBe(await division(other));
  await page.getByRole("button", { name: "Undo" }).click();
  await saved();
  await eventually(() => division(other)).toBe(await division());
  await other.close();
});

it("a spot is struck on the plate, and what follows is worked out without reading the photo again", async () => {
  await page.locator("button.strip").nth(5).click();
  const sheet = page.locator("dialog.plateview");
  await sheet.waitFor();
  const spots = sheet.locator("g.spot");
  const before = await spots.count();
  await sheet.locator("g.lane").nth(5).focus();
  await page.keyboard.press("Enter");
  await sheet
    .getByRole("button", { name: /^Strike the spot/ })
    .first()
    .click();
  await eventually(() => spots.count()).toBe(before - 1);
  await sheet.getByLabel("Tube number").fill("6");
  // The front is dragged: every Rf of the plate follows.
  const rf = await sheet.locator("g.spot text").first().textContent();
  const front = sheet.locator("g.line").nth(1);
  await front.focus();
  for (let i = 0; i < 8; i++) await page.keyboard.press("ArrowUp");
  await sheet.locator("g.lane").first().focus();
  await eventually(() => sheet.locator("g.spot text").first().textContent()).not.toBe(rf);
  await page.keyboard.press("Escape");
  await saved();
  await page.keyboard.press("Control+z");
  await saved();
  await page.keyboard.press("Control+z");
  await saved();
});

it("a photo that arrives in two halves is read when it is whole, and the page shows it by itself", async () => {
  const bytes = readFileSync(PLATE_2);
  const path = join(folder, "plate-2.jpg");
  writeFileSync(path, bytes.subarray(0, bytes.length >> 1));
  await page.locator('[data-arriving="plate-2.jpg"]').waitFor();
  const lanes = await page.locator("button.strip").count();
  await page.waitForTimeout(1200);
  expect(await page.locator("button.strip").count()).toBe(lanes);
  writeFileSync(path, bytes);
  await eventually(() => page.locator("button.strip").count(), { timeout: 20_000 }).toBeGreaterThan(lanes);
  expect(await page.locator('[data-arriving="plate-2.jpg"]').count()).toBe(0);
  expect(await page.locator('[data-photo="plate-2.jpg"]').count()).toBe(1);
});

it("a bad photo is told at once", async () => {
  writeFileSync(join(folder, "note.jpg"), "this is no picture");
  const told = page.locator('[data-rejected="note.jpg"]');
  await told.waitFor();
  rmSync(join(folder, "note.jpg"));
  await told.waitFor({ state: "detached" });
});

it("everything is accepted in one press where all is clear, else after a word; it is there after a reload", async () => {
  await page.getByRole("button", { name: "Accept all", exact: true }).click();
  const sure = page.getByRole("button", { name: "Accept all the same" });
  if (await sure.isVisible()) await sure.click();
  await page.getByRole("button", { name: "All accepted" }).waitFor();
  await saved();
  const after = await division();
  await page.reload();
  await tube(1).waitFor();
  expect(await division()).toBe(after);
  expect(await page.locator(".poolname.accepted").count()).toBeGreaterThan(0);
  expect(journal().at(-1)).toMatchObject({ act: { kind: "divide", done: "accept" } });
});

it("the history is told, and an earlier state brought back", async () => {
  await page.getByRole("button", { name: "History" }).click();
  const acts = page.locator("dialog.history li");
  expect(await acts.count()).toBe(journal().length + 1);
  await acts.last().getByRole("button").click();
  await saved();
  expect(journal().at(-1)).toMatchObject({ act: { kind: "return", to: 0 } });
  expect(await page.locator(".poolname.accepted").count()).toBe(0);
  await page.keyboard.press("Control+z");
  await eventually(() => page.locator(".poolname.accepted").count()).toBeGreaterThan(0);
});

const AXE = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

/** Breaches of WCAG 2.2 A and AA that axe finds in the page, or in the part of it that is laid over the rest. */
async function breaches(tab: Page, part = "document"): Promise<string[]> {
  await tab.evaluate(AXE);
  const tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];
  const run = `axe.run(${part}, { runOnly: ${JSON.stringify(tags)} }).then((r) => r.violations.map((v) => v.id + ": " + v.nodes.map((n) => n.target.join(" ")).join(", ")))`;
  return (await tab.evaluate(run)) as string[];
}

it("keeps WCAG 2.2 AA as far as axe can tell: light, dark, 360 px, 200 %, plate and history open", async () => {
  await tube(2).click();
  expect(await breaches(page)).toEqual([]);
  await page.getByRole("button", { name: "History" }).click();
  expect(await breaches(page, "'dialog'")).toEqual([]);
  await page.keyboard.press("Escape");
  await page.locator("button.strip").nth(2).click();
  await page.locator("dialog.plateview").waitFor();
  expect(await breaches(page, "'dialog'")).toEqual([]);
  await page.keyboard.press("Escape");
  await page.emulateMedia({ colorScheme: "dark" });
  expect(await breaches(page)).toEqual([]);
  await page.setViewportSize({ width: 360, height: 740 });
  expect(await breaches(page)).toEqual([]);
});

it("needs no sideways scrolling at 360 px, nor at 200 % zoom", async () => {
  for (const width of [360, 640]) {
    await page.setViewportSize({ width, height: 740 });
    await tube(1).waitFor();
    const wide = "document.documentElement.scrollWidth - document.documentElement.clientWidth";
    expect(await page.evaluate(wide), `${width} px`).toBeLessThanOrEqual(0);
  }
});

it("nothing went wrong on the way, and nothing was asked of anybody else", () => {
  expect(faults).toEqual([]);
});
