import type { CDPSession, Locator } from "playwright-core";
import { afterAll, beforeAll, expect, it } from "vitest";
import { sampleInput } from "../report/support/samplePictures.ts";
import { sampleResult } from "../report/support/sampleResult.ts";
import { eventually, type House, openHouse, type Tab } from "../review/support/openTab.ts";
import { readingOf, sampleReader } from "../review/support/sampleReader.ts";

/** The review by fingers alone, on a tablet's screen: what is dragged, tapped and scrolled. The tests follow each other. */
let house: House;
let tab: Tab;
let fingers: CDPSession;

beforeAll(async () => {
  house = await openHouse();
  const result = sampleResult({ tubes: 16, lanesPerPlate: 8 });
  const reader = sampleReader(readingOf(await sampleInput(result), result));
  const tablet = { viewport: { width: 820, height: 1180 }, hasTouch: true, isMobile: true, deviceScaleFactor: 2 };
  tab = await house.open(reader, tablet);
  await tab.page.locator('button[data-tube="16"]').waitFor();
  fingers = await tab.context.newCDPSession(tab.page);
}, 60_000);
afterAll(() => house?.close());

interface At {
  readonly x: number;
  readonly y: number;
}

async function middleOf(locator: Locator): Promise<At> {
  await locator.scrollIntoViewIfNeeded();
  const { x, y, width, height } = (await locator.boundingBox())!;
  return { x: x + width / 2, y: y + height / 2 };
}

/** One finger put down, drawn over the glass in some steps, lifted. `steps` are ways from where it was put down. */
async function drag(from: At, steps: readonly At[], lift = true): Promise<void> {
  await fingers.send("Input.dispatchTouchEvent", { type: "touchStart", touchPoints: [from] });
  for (const { x, y } of steps) {
    const at = { x: from.x + x, y: from.y + y };
    await fingers.send("Input.dispatchTouchEvent", { type: "touchMove", touchPoints: [at] });
    await tab.page.waitForTimeout(30);
  }
  if (lift) await fingers.send("Input.dispatchTouchEvent", { type: "touchEnd", touchPoints: [] });
}
/** A way in equal steps, as a finger takes it. */
const way = (x: number, y: number, n = 6): At[] =>
  Array.from({ length: n }, (_, i) => ({ x: (x * (i + 1)) / n, y: (y * (i + 1)) / n }));
const tap = async (locator: Locator) => {
  const { x, y } = await middleOf(locator);
  await tab.page.touchscreen.tap(x, y);
};
const lastAct = () => tab.journal().at(-1)?.act;
const scrolled = () => tab.page.evaluate("document.scrollingElement.scrollTop") as Promise<number>;

it("a tap takes a tube in hand, and a tap on its deeds does them", async () => {
  await tap(tab.page.locator('button[data-tube="2"]'));
  expect(await tab.page.locator("[data-in-hand]").getAttribute("data-in-hand")).toBe("tube 2");
  await tap(tab.page.getByRole("button", { name: "Set apart" }));
  await tab.saved();
  expect(lastAct()).toMatchObject({ kind: "divide", done: "move" });
  await tap(tab.page.getByRole("button", { name: "Undo" }));
  await tab.saved();
  expect(lastAct()).toMatchObject({ kind: "undo" });
});

it("the end of a bracket follows a finger that is not quite level, and the page does not scroll under it", async () => {
  const grip = tab.page.locator(".grip").first();
  const from = await middleOf(grip);
  const step = (await tab.page.locator('button[data-tube="1"]').boundingBox())!.width;
  const before = await scrolled();
  await drag(from, way(step, 14), false);
  expect(await tab.page.locator("[data-in-hand]").getAttribute("data-in-hand")).toBe("boundary");
  await fingers.send("Input.dispatchTouchEvent", { type: "touchEnd", touchPoints: [] });
  await tab.saved();
  expect(lastAct()).toMatchObject({ kind: "divide", done: expect.stringMatching(/boundary|merge/) });
  expect(await scrolled()).toBe(before);
  await tap(tab.page.getByRole("button", { name: "Undo" }));
  await tab.saved();
});

it("a drag that the system breaks off puts the end back, and nothing is kept", async () => {
  const acts = tab.journal().length;
  const grip = tab.page.locator(".grip").first();
  const told = await grip.getAttribute("aria-valuetext");
  const step = (await tab.page.locator('button[data-tube="1"]').boundingBox())!.width;
  await drag(await middleOf(grip), way(step, 0), false);
  expect(await grip.getAttribute("aria-valuetext")).not.toBe(told);
  await fingers.send("Input.dispatchTouchEvent", { type: "touchCancel", touchPoints: [] });
  await eventually(() => grip.getAttribute("aria-valuetext")).toBe(told);
  expect(tab.journal()).toHaveLength(acts);
});

it("a finger drawn over tubes and lanes scrolls the page, and presses nothing", async () => {
  await tab.page.evaluate("document.scrollingElement.scrollTop = 0");
  const acts = tab.journal().length;
  const from = await middleOf(tab.page.locator("button.strip").nth(4));
  await drag(from, way(0, -180));
  await eventually(scrolled).toBeGreaterThan(60);
  expect(await tab.page.locator("dialog").count()).toBe(0);
  expect(tab.journal()).toHaveLength(acts);
});

it("origin and front, a lane and a spot are dragged on the plate", async () => {
  await tab.page.evaluate("document.scrollingElement.scrollTop = 0");
  await tap(tab.page.locator("button.strip").nth(4));
  const sheet = tab.page.locator("dialog.plateview");
  await sheet.waitFor();
  const plate = (await sheet.locator("svg.plate").boundingBox())!;
  for (const [i, what, by] of [
    [0, "origin", -plate.height / 30],
    [1, "front", plate.height / 25],
  ] as const) {
    // Taken hold of at its left end, where no spot lies over it.
    const line = (await sheet.locator("g.line .ink").nth(i).boundingBox())!;
    await drag({ x: line.x + 12, y: line.y + line.height / 2 }, way(0, by));
    await eventually(lastAct).toMatchObject({ kind: "mend", mending: { what } });
  }
  const lane = sheet.locator("g.lane .tab").nth(2);
  await drag(await middleOf(lane), way(9, 0));
  await eventually(lastAct).toMatchObject({ mending: { what: "lanes", done: "move" } });
  const spot = sheet.locator("g.spot .ink").first();
  await drag(await middleOf(spot), way(0, -12));
  await eventually(lastAct).toMatchObject({ mending: { what: "spot-move" } });
});

it("a tap takes hold of a spot and of a lane, and puts a new spot where it is told to", async () => {
  const sheet = tab.page.locator("dialog.plateview");
  await tap(sheet.locator("g.lane .tab").nth(3));
  expect(await sheet.locator("[data-grasp]").getAttribute("data-grasp")).toBe("lane");
  await tap(sheet.locator("g.spot .ink").nth(1));
  expect(await sheet.locator("[data-grasp]").getAttribute("data-grasp")).toBe("spot");
  await tap(sheet.getByRole("button", { name: "Spot", exact: true }));
  const { x, y, width, height } = (await sheet.locator("svg.plate").boundingBox())!;
  await tab.page.touchscreen.tap(x + width * 0.52, y + height * 0.42);
  await eventually(lastAct).toMatchObject({ mending: { what: "spot-add" } });
});

it("a corner of the plate is dragged on the photo", async () => {
  const sheet = tab.page.locator("dialog.plateview");
  await tap(sheet.getByRole("button", { name: "Photo and corners" }));
  const corner = sheet.locator("g.corner").first();
  // Taken hold of 22 px beside its middle: a gloved finger need not hit it.
  const { x, y } = await middleOf(corner.locator(".ink"));
  await drag({ x: x + 15, y: y - 15 }, way(14, 18));
  await eventually(lastAct).toMatchObject({ mending: { what: "corners" } });
});

it("a large plate is moved about with a finger where nothing lies under it", async () => {
  const sheet = tab.page.locator("dialog.plateview");
  await tap(sheet.getByRole("button", { name: "Straightened" }));
  await tap(sheet.getByRole("button", { name: /^Zoom/ }));
  const stage = sheet.locator(".stage");
  const box = (await stage.boundingBox())!;
  // Just below the front of the solvent, left of the first lane: no mark is there.
  await drag({ x: box.x + box.width / 2, y: box.y + 12 }, way(-150, -10));
  await eventually(() => stage.evaluate((e) => Math.max(e.scrollLeft, e.scrollTop))).toBeGreaterThan(20);
  await tap(sheet.getByRole("button", { name: "Close" }));
});

it("whatever is pressed is 44 px at least, board, dock, plate and tube log", async () => {
  // Spots stand as near as they ran; a lane's list offers each of them again, in full size. A link in a line of text is text.
  const small = `[...document.querySelectorAll("button, input, summary, [role=slider], a.sheetlink")]
    .map((e) => [e, e.getBoundingClientRect()])
    .filter(([e, r]) => r.width > 0 && !e.closest(".unseen") && (r.width < 43.5 || r.height < 43.5))
    .map(([e, r]) => (e.textContent || e.name || e.className).trim() + " " + r.width.toFixed(0) + "x" + r.height.toFixed(0))`;
  expect(await tab.page.evaluate(small)).toEqual([]);
  await tap(tab.page.locator('button[data-tube="3"]'));
  expect(await tab.page.evaluate(small)).toEqual([]);
  await tap(tab.page.locator("button[data-pool]").first());
  expect(await tab.page.evaluate(small)).toEqual([]);
  await tap(tab.page.locator(".papers").getByRole("button", { name: "Tube log" }));
  expect(await tab.page.evaluate(small)).toEqual([]);
  await tap(tab.page.getByRole("button", { name: "Close" }));
  await tap(tab.page.locator("button.strip").nth(2));
  expect(await tab.page.evaluate(small)).toEqual([]);
  await tab.page.setViewportSize({ width: 360, height: 740 });
  expect(await tab.page.evaluate(small)).toEqual([]);
  await tap(tab.page.getByRole("button", { name: "Close" }));
  expect(await tab.page.evaluate(small)).toEqual([]);
});

it("nothing went wrong on the way", () => {
  expect(tab.faults).toEqual([]);
});
