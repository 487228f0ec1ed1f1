import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { afterAll, beforeAll, expect, it } from "vitest";
import { sampleInput } from "../report/support/samplePictures.ts";
import { sampleResult } from "../report/support/sampleResult.ts";
import { eventually, type House, openHouse, type Tab } from "../review/support/openTab.ts";
import { readingOf, sampleReader } from "../review/support/sampleReader.ts";

/** The tube log and pools that are opened again, typed and pressed on the page. The tests follow each other. */
let house: House;
let tab: Tab;

beforeAll(async () => {
  house = await openHouse();
  const result = sampleResult({ tubes: 16, lanesPerPlate: 8 });
  const reader = sampleReader(readingOf(await sampleInput(result), result));
  tab = await house.open(reader, { viewport: { width: 1180, height: 820 }, colorScheme: "light" });
  await tab.page.locator('button[data-tube="16"]').waitFor();
}, 60_000);
afterAll(() => house?.close());

const field = (name: string) => tab.page.locator(`dialog.tubelog input[name="${name}"]`);
const write = () => tab.page.getByRole("button", { name: "Write it down" }).click();
const logged = () => tab.page.locator("[data-logged]").allTextContents();
/** Volume of the pool that a tube stands in, as the table of pools says it. */
async function volumeOfPool(name: string): Promise<string | null> {
  return tab.page.locator(`tr[data-pool-row="${name}"] td[data-label="Volume"]`).textContent();
}
const firstPool = async () => (await tab.page.locator("tr[data-pool-row]").first().getAttribute("data-pool-row"))!;

it("is opened from the tube in hand, and what is written shows in the pool's volume at once", async () => {
  const pool = await firstPool();
  const before = Number.parseFloat((await volumeOfPool(pool))!);
  await tab.page.locator('button[data-tube="1"]').click();
  await tab.page.locator(".dock").getByRole("button", { name: "Tube log" }).click();
  expect(await field("tubes").inputValue()).toBe("1");
  await field("volume").fill("12,5 mL");
  await field("note").fill("<b>cloudy</b>");
  await write();
  await eventually(logged).toEqual([expect.stringMatching(/^Tube 112\.5 mL; <b>cloudy<\/b>/)]);
  expect(await field("volume").inputValue()).toBe("");
  expect(tab.journal()).toMatchObject([
    { id: 1, act: { kind: "log", entry: { from: 1, to: 1, volumeMl: 12.5, note: "<b>cloudy</b>" } } },
  ]);
  await tab.page.keyboard.press("Escape");
  await eventually(() => volumeOfPool(pool)).toBe(`${before + 2.5} mL`);
  expect(await tab.page.locator(".dock .logged").textContent()).toContain("12.5 mL; <b>cloudy</b>");
});

it.each([
  ["a negative volume", { tubes: "3", volume: "-2" }, "volume", /-2 mL is less than nothing/],
  ["a tube that does not exist", { tubes: "40", volume: "8" }, "tubes", /There is no tube 40; the run has tubes 1-16/],
  ["words for a number", { tubes: "3", volume: "half full" }, "volume", /"half full" is no volume/],
  ["no tube", { tubes: "", volume: "8" }, "tubes", /Which tube\?/],
])("%s is told at its field, and what was typed stays", async (_, typed, wrong, words) => {
  const before = tab.journal().length;
  await tab.page.locator(".papers").getByRole("button", { name: "Tube log" }).click();
  for (const [name, text] of Object.entries(typed)) await field(name).fill(text);
  await write();
  expect(await tab.page.locator(`#fault-${wrong}`).textContent()).toMatch(words);
  expect(await field(wrong).getAttribute("aria-invalid")).toBe("true");
  expect(await field(wrong).evaluate((e) => e === e.ownerDocument.activeElement)).toBe(true);
  expect(tab.journal()).toHaveLength(before);
  // Closed by a slip of the hand and opened again: still there.
  await tab.page.keyboard.press("Escape");
  await tab.page.locator(".papers").getByRole("button", { name: "Tube log" }).click();
  for (const [name, text] of Object.entries(typed)) {
    expect(await field(name).inputValue()).toBe(text);
    await field(name).fill("");
  }
  await tab.page.keyboard.press("Escape");
});

it("where another tab was quicker, what was typed stays in its fields, and can be written once more", async () => {
  const other = await tab.context.newPage();
  await other.goto(tab.page.url());
  await other.locator('button[data-tube="16"]').waitFor();
  await tab.page.locator(".papers").getByRole("button", { name: "Tube log" }).click();
  await field("tubes").fill("5-7");
  await field("eluent").fill("hexane/EtOAc 3:1");
  // The other tab's act is on disk before this one hears of it.
  let hear = () => {};
  const heard = new Promise<void>((resolve) => {
    hear = resolve;
  });
  await tab.page.route("**/state", async (route) => {
    await heard;
    await route.continue();
  });
  await other.locator('button[data-tube="2"]').click();
  await other.getByRole("button", { name: "Set apart" }).click();
  await eventually(() => other.locator("[data-safety]").getAttribute("data-safety")).toBe("safe");
  await write();
  await eventually(() => tab.page.locator("dialog.tubelog .why").allTextContents()).toEqual([
    expect.stringContaining("something else was decided meanwhile"),
  ]);
  expect(await field("eluent").inputValue()).toBe("hexane/EtOAc 3:1");
  hear();
  await write();
  await eventually(logged).toContainEqual(expect.stringMatching(/^Tubes 5–7eluent hexane\/EtOAc 3:1 from here on/));
  await tab.page.unroute("**/state");
  await other.close();
});

it("a line is struck, undone, and stands in the history; it is there after a reload", async () => {
  await tab.page.locator('[data-logged="1-1"]').getByRole("button").click();
  await eventually(async () => (await logged()).length).toBe(1);
  await tab.page.keyboard.press("Escape");
  await tab.page.getByRole("button", { name: "Undo" }).click();
  await tab.saved();
  await tab.page.getByRole("button", { name: "History" }).click();
  expect(await tab.page.locator("dialog.history").textContent()).toContain(
    "tube log, tube 1: the usual volume, no note",
  );
  await tab.page.keyboard.press("Escape");
  await tab.page.reload();
  await tab.page.locator('button[data-tube="16"]').waitFor();
  await tab.page.locator(".papers").getByRole("button", { name: "Tube log" }).click();
  expect((await logged()).length).toBe(2);
});

it("keeps WCAG 2.2 AA with a fault told, light and dark, and at 360 px without sideways scrolling", async () => {
  await field("volume").fill("x");
  await write();
  const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
  for (const colorScheme of ["light", "dark"] as const) {
    await tab.page.emulateMedia({ colorScheme });
    await tab.page.evaluate(axe);
    const found = `axe.run("dialog", { runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"] })
      .then((r) => r.violations.map((v) => v.id + ": " + v.nodes.map((n) => n.target.join(" ")).join(", ")))`;
    expect(await tab.page.evaluate(found)).toEqual([]);
  }
  await tab.page.setViewportSize({ width: 360, height: 740 });
  const wide = "document.querySelector('dialog').scrollWidth - document.querySelector('dialog').clientWidth";
  expect(await tab.page.evaluate(wide)).toBeLessThanOrEqual(0);
  await tab.page.keyboard.press("Escape");
  await tab.page.setViewportSize({ width: 1180, height: 820 });
});

it("one of several accepted pools is opened again; the others stay accepted", async () => {
  await tab.page.getByRole("button", { name: "Accept all", exact: true }).click();
  const sure = tab.page.getByRole("button", { name: "Accept all the same" });
  if (await sure.isVisible()) await sure.click();
  await tab.page.getByRole("button", { name: "All accepted" }).waitFor();
  await tab.saved();
  const pools = await tab.page.locator("tr[data-pool-row]").count();
  const name = await firstPool();
  await tab.page.locator(`button[data-pool="${name}"]`).first().click();
  await tab.page.getByRole("button", { name: "Open it again" }).click();
  await tab.saved();
  const last = tab.journal().at(-1)!.act;
  expect(last).toMatchObject({ kind: "divide", done: "reopen" });
  const open = "pools" in last ? last.pools.filter((p) => !p.accepted).map((p) => p.name) : [];
  expect(open).toEqual([name]);
  expect(await tab.page.locator("tr[data-pool-row] .tick").count()).toBe(pools - 1);
  // It can be changed now, and accepted again by itself.
  await tab.page.getByRole("button", { name: "Accept this pool" }).click();
  await tab.page.getByRole("button", { name: "All accepted" }).waitFor();
});

it("nothing went wrong on the way but the refusal that was meant", () => {
  expect(tab.faults.filter((f) => !f.includes("409"))).toEqual([]);
});
