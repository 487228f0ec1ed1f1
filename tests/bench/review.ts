import { copyFileSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Locator, Page } from "playwright-core";
import { openSession } from "../../src/cli/watching/session.ts";
import { openReview, type Reader } from "../../src/review/server/index.ts";
import { sampleInput } from "../report/support/samplePictures.ts";
import { sampleResult } from "../report/support/sampleResult.ts";
import { readingOf, sampleReader } from "../review/support/sampleReader.ts";
import { startBrowser } from "../support/browser.ts";
import { bundlePage } from "../support/page.ts";

/**
 * How quick the review page is, in a real Chromium: first paint and drag frames of a run of 60 tubes, an act until it is
 * saved, a mending until the page shows what follows. Goals: 1000, 50, 300 ms on a machine that does nothing else; the
 * first line says how busy this one is. `npx tsx tests/bench/review.ts`; `--mending` alone: the second half.
 */
const ROUNDS = 5;
const DRAGS = 9;

/** Notes, in the page, how long it takes from letting go until a frame is drawn in which nothing is being worked out any more. */
const WATCH = `addEventListener("pointerup", ({ timeStamp }) => {
  let begun = false;
  globalThis.seen_ = null;
  const look = () => {
    const idle = document.querySelector(".working").textContent === "" && document.querySelector("[data-safety=safe]");
    begun ||= !idle;
    if (!begun || !idle) return requestAnimationFrame(look);
    setTimeout(() => { globalThis.seen_ = performance.now() - timeStamp; });
  };
  requestAnimationFrame(look);
}, true);`;

const pageDir = await bundlePage();
const browser = await startBrowser();
try {
  if (!process.argv.includes("--mending")) await sixtyTubes();
  await mending();
} finally {
  await browser.close();
  rmSync(pageDir, { recursive: true });
}

async function sixtyTubes(): Promise<void> {
  const result = sampleResult({ tubes: 60, lanesPerPlate: 11 });
  const reader = sampleReader(readingOf(await sampleInput(result), result));
  await withReview(reader, mkdtempSync(join(tmpdir(), "bench-")), async (link) => {
    const bare: number[] = [];
    const paints: number[] = [];
    const whole: number[] = [];
    for (let i = 0; i < ROUNDS; i++) {
      const context = await browser.newContext({ viewport: { width: 1280, height: 900 } });
      const page = await context.newPage();
      const paint = `performance.getEntriesByName("first-contentful-paint")[0]?.startTime ?? performance.now()`;
      await page.goto(link.replace(/key=.*/, ""));
      bare.push((await page.evaluate(paint)) as number);
      await page.goto(link);
      await page.locator('button[data-tube="60"]').waitFor({ state: "attached" });
      paints.push((await page.evaluate(paint)) as number);
      // All pictures in, and a frame drawn with them.
      await page.waitForLoadState("networkidle");
      const last = `Math.max(...performance.getEntriesByType("resource").map((r) => r.responseEnd))`;
      whole.push((await page.evaluate(last)) as number);
      if (i === ROUNDS - 1) await drags(page);
      await context.close();
    }
    tell("first paint of a line of text, to compare", bare, null);
    tell("first paint, 60 tubes", paints, 1000);
    tell("last picture there, 60 tubes", whole, null);
  });
}

/** Each move of the pointer until the frame that follows from it has been drawn. */
async function drags(page: Page): Promise<void> {
  await page.evaluate(`globalThis.frames_ = [];
    addEventListener("pointermove", () => {
      const from = performance.now();
      requestAnimationFrame(() => setTimeout(() => globalThis.frames_.push(performance.now() - from)));
    }, true);`);
  const { x, y } = (await page.locator(".grip").nth(2).boundingBox())!;
  await page.mouse.move(x + 22, y + 20);
  await page.mouse.down();
  for (let i = 0; i < 120; i++) {
    await page.mouse.move(x + 22 + 260 * Math.sin(i / 12), y + 20);
    await page.waitForTimeout(8);
  }
  const frames = (await page.evaluate("globalThis.frames_")) as number[];
  const from = Date.now();
  await page.mouse.up();
  await page.locator("[data-safety=safe]").waitFor();
  tell("drag frame, 60 tubes", frames, 50);
  tell("let go until saved", [Date.now() - from], null);
}

async function mending(): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), "bench-"));
  copyFileSync("fixtures/runs/normal-30/plate-01a.jpg", join(folder, "plate-1.jpg"));
  writeFileSync(
    join(folder, "run.yaml"),
    "fractions: { count: 14 }\nplates:\n  - photos: [plate-1.jpg]\n    lanes: [1-14]\n",
  );
  const silent = { onReading: () => undefined, onGroup: () => undefined, onFault: () => undefined };
  const session = await openSession(folder, { policy: "balance", workers: 1, quiet: true }, silent);
  await withReview(session.reader, folder, async (link) => {
    const page = await browser.newPage({ viewport: { width: 1280, height: 900 } });
    await page.goto(link);
    await session.start();
    await page.locator("button.strip").nth(5).click();
    // As a person does, who looks first; meanwhile the mending is rehearsed.
    await page.waitForTimeout(4000);
    await page.evaluate(WATCH);
    const spots = page.locator("dialog g.spot");
    const struck: number[] = [];
    for (let i = 0; i < ROUNDS; i++) {
      const before = await spots.count();
      await page.locator("dialog g.lane").nth(6).focus();
      await page.keyboard.press("Enter");
      const strike = page.getByRole("button", { name: /^Strike the spot/ }).first();
      await strike.waitFor();
      await strike.click();
      struck.push(await seen(page));
      await expectCount(spots, (n) => n < before);
      await page.keyboard.press("Control+z");
      await expectCount(spots, (n) => n === before);
      await page.locator("[data-safety=safe]").waitFor();
    }
    tell("spot struck until the page shows what follows", struck, 300);
    for (const what of ["origin", "front"]) await line(page, session.reader, what);
    await page.getByRole("button", { name: "Photo and corners" }).click();
    for (const still of [0, 500]) await corners(page, session.reader, still);
  });
  await session.close(true);
}

/** Origin or front dragged on the straightened plate, midway between two lanes, and let go at once. */
async function line(page: Page, reader: Reader, what: string): Promise<void> {
  const took: number[] = [];
  for (let i = 0; i < DRAGS; i++) {
    const from = (await page.evaluate(`(() => {
      const path = document.querySelector("dialog g[data-held='${what}'] .ink");
      const lanes = [...document.querySelectorAll("dialog g.lane .tab")].map((t) => t.getBoundingClientRect());
      const at = lanes.map((r) => r.x + r.width / 2).sort((a, b) => a - b);
      const x = (at[6] + at[7]) / 2;
      const box = path.getBoundingClientRect();
      return { x, y: box.y + box.height / 2 };
    })()`)) as { x: number; y: number };
    const before = reader.reading;
    await page.mouse.move(from.x, from.y);
    await page.mouse.down();
    await page.mouse.move(from.x, from.y + (i % 2 === 0 ? 1 : -1) * (5 + i), { steps: 3 });
    await page.mouse.up();
    await until(() => reader.reading !== before);
    took.push(await seen(page));
  }
  tell(`${what} dragged, let go at once, until it shows`, took, 300);
}

/**
 * A corner dragged on the photo: from letting go until the page has drawn what follows, and what of this is server and
 * threads.
 * @param still how long it is held still before it is let go, ms
 */
async function corners(page: Page, reader: Reader, still: number): Promise<void> {
  const took: number[] = [];
  const cpu: number[] = [];
  for (let i = 0; i < DRAGS; i++) {
    const { x, y, width, height } = (await page.locator("g.corner .ink").first().boundingBox())!;
    const from = { x: x + width / 2, y: y + height / 2 };
    // Never back to where it was: that would be remembered.
    const by = (i % 2 === 0 ? 1 : -1) * (6 + i) + still / 1000;
    await page.mouse.move(from.x, from.y);
    await page.mouse.down();
    await page.mouse.move(from.x + by, from.y + by, { steps: 3 });
    await page.waitForTimeout(still);
    const before = reader.reading;
    const used = process.cpuUsage();
    await page.mouse.up();
    await until(() => reader.reading !== before);
    const { user, system } = process.cpuUsage(used);
    cpu.push((user + system) / 1000);
    took.push(await seen(page));
  }
  const how = still === 0 ? "let go at once" : `held still for ${still} ms`;
  tell(`corner dragged, ${how}, until it shows`, took, 300);
  tell("   CPU of it, server and threads", cpu, null);
}

async function seen(page: Page): Promise<number> {
  let ms: number | null = null;
  await until(async () => {
    ms = (await page.evaluate("globalThis.seen_")) as number | null;
    return ms !== null;
  });
  return ms!;
}

async function expectCount(spots: Locator, right: (count: number) => boolean): Promise<void> {
  await until(async () => right(await spots.count()));
}

async function until(right: () => boolean | Promise<boolean>): Promise<void> {
  const from = Date.now();
  while (!(await right())) {
    if (Date.now() - from > 20_000) throw new Error("the page did not follow the mending");
    await new Promise((resolve) => setTimeout(resolve, 2));
  }
}

async function withReview(reader: Reader, folder: string, work: (link: string) => Promise<void>): Promise<void> {
  const sheet = async () => "";
  const review = await openReview({ folder, reader, port: 0, clock: () => new Date().toISOString(), sheet, pageDir });
  try {
    await work(review.link);
  } finally {
    await review.close();
    rmSync(folder, { recursive: true, force: true });
  }
}

function tell(what: string, ms: readonly number[], goal: number | null): void {
  const sorted = [...ms].sort((a, b) => a - b);
  const at = (share: number) => sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))].toFixed(0);
  const aim = goal === null ? "" : `   goal ${goal} ms`;
  console.log(
    `${what.padEnd(46)} median ${at(0.5).padStart(5)}  95 % ${at(0.95).padStart(5)}  most ${at(1).padStart(5)} ms${aim}`,
  );
}
