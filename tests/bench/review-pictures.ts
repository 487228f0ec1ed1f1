import { copyFileSync, mkdirSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Page } from "playwright-core";
import sharp from "sharp";
import { demo } from "../../src/cli/reading/demo.ts";
import { openSession } from "../../src/cli/watching/session.ts";
import { openReview } from "../../src/review/server/index.ts";
import { startBrowser } from "../support/browser.ts";
import { bundlePage } from "../support/page.ts";

/** Takes the pictures of the review page that docs show, of the demo run: `npx tsx tests/bench/review-pictures.ts [FOLDER]` */
const out = process.argv[2] ?? "docs/pictures";
mkdirSync(out, { recursive: true });
const folder = mkdtempSync(join(tmpdir(), "pictures-"));
const made = mkdtempSync(join(tmpdir(), "demo-"));
const flags = { policy: "balance" as const, workers: 2, quiet: true };
await demo(join(made, "run"), flags);
for (const plate of [1, 2, 3])
  for (const light of ["254", "kmno4"])
    copyFileSync(join(made, "run", `plate-${plate}-${light}.jpg`), join(folder, `plate-${plate}-${light}.jpg`));
copyFileSync(join(made, "run", "run.yaml"), join(folder, "run.yaml"));

const pageDir = await bundlePage();
const browser = await startBrowser();
const silent = {
  onReading: () => undefined,
  onGroup: () => undefined,
  onFault: (fault: string) => console.error(fault),
};
const session = await openSession(folder, flags, silent);
await session.start();
const clock = () => "2026-03-04T10:20:30.000Z";
const sheet = async () => "";
const review = await openReview({ folder, reader: session.reader, port: 0, clock, sheet, pageDir });

const desk = await open(1280, 860, "light");
await desk.getByRole("button", { name: /Next doubt/ }).click();
await desk.getByRole("button", { name: /Next doubt/ }).click();
await save(desk, "review-desk");

const dark = await open(1280, 860, "dark");
const { x, y } = (await dark.locator(".grip").nth(1).boundingBox())!;
await dark.mouse.move(x + 22, y + 20);
await dark.mouse.down();
await dark.mouse.move(x + 100, y + 20, { steps: 4 });
await save(dark, "review-dark");
await dark.keyboard.press("Escape");

const phone = await open(360, 740, "light");
await phone.locator('button[data-tube="5"]').click();
await save(phone, "review-phone");

await desk.locator("button.strip").nth(6).click();
await save(desk, "review-plate");
await desk.keyboard.press("Escape");

const tablet = await open(820, 1100, "light");
await tablet.locator('button[data-tube="9"]').click();
await tablet.locator(".dock").getByRole("button", { name: "Tube log" }).click();
const write = async (typed: Readonly<Record<string, string>>) => {
  for (const [field, text] of Object.entries(typed)) await tablet.locator(`.tubelog input[name="${field}"]`).fill(text);
  await tablet.getByRole("button", { name: "Write it down" }).click();
  await tablet.waitForTimeout(400);
};
await write({ tubes: "9", eluent: "hexane/EtOAc 3:1" });
await write({ tubes: "14-15", volume: "12.5", note: "slow, cloudy" });
await write({ tubes: "30", volume: "8" });
await save(tablet, "review-log");

await browser.close();
await review.close();
await session.close(true);
for (const dir of [folder, made, pageDir]) rmSync(dir, { recursive: true });

async function open(width: number, height: number, colorScheme: "light" | "dark"): Promise<Page> {
  const page = await browser.newPage({ viewport: { width, height }, colorScheme });
  await page.goto(review.link);
  await page.locator('button[data-tube="24"]').waitFor();
  await page.waitForLoadState("networkidle");
  return page;
}

/** Small enough for a repository: a palette of 256 colours. */
async function save(page: Page, name: string): Promise<void> {
  await page.waitForTimeout(500);
  await sharp(await page.screenshot())
    .png({ palette: true, compressionLevel: 9 })
    .toFile(join(out, `${name}.png`));
}
