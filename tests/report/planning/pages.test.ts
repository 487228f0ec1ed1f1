import { describe, expect, it } from "vitest";
import {
  buildSheet,
  checkPlan,
  logTubes,
  mixedPool,
  planAgain,
  rankEluents,
  recoverMass,
  tubeAt,
} from "../../../src/planning/index.ts";
import { planHtml, scoutHtml, sheetHtml, writeUpHtml } from "../../../src/report/planning/index.ts";
import { inventedRun } from "../../planning/support/run.ts";
import { ALDOL, CHALCONE, hexaneTrial, KETONE } from "../../planning/support/scouting.ts";
import { attribute, type Element, readPage, textOf } from "./readPage.ts";

const EVIL = `<img src=x onerror=alert(1)>"'&`;
const { plan, result, log } = inventedRun();
const rack = { rows: 4, columns: 8, fill: "serpentine", start: "top-left" } as const;
const ranking = rankEluents(
  [8, 20, 50].map((p) => hexaneTrial(p, [KETONE, CHALCONE, ALDOL], true)),
  "chalcone",
);
const again = planAgain(mixedPool(result, null), {
  result,
  first: plan,
  check: null,
  weighedMg: 20,
  givenMg: null,
  firstLoadMg: 250,
  want: "B",
});
const sheet = buildSheet({
  result: { ...result, run: EVIL },
  log: logTubes(
    plan.tubes.length,
    plan.fractionMl,
    [{ from: 2, to: 2, volumeMl: null, eluent: null, flask: null, note: EVIL }],
    null,
  ),
  rack,
  racks: 1,
  largestFlaskMl: 100,
  again: [again],
});
const check = checkPlan(plan, result, log, null);
const recovery = recoverMass([{ pool: "P2", flask: "1", tareG: 50, grossG: 50.05 }], result.pools, 250, null);

const pages = {
  scout: scoutHtml(ranking, EVIL),
  plan: planHtml({ plan, run: EVIL, found: null, reasons: [EVIL] }),
  found: planHtml({ plan, run: EVIL, found: { profiles: result.profiles, check }, reasons: [] }),
  sheet: sheetHtml(sheet, tubeAt),
  writeup: writeUpHtml({
    result: { ...result, run: EVIL },
    log,
    plan,
    check,
    recovery,
    basis: null,
    names: { B: EVIL },
    version: "0",
  }),
};

describe.each(Object.entries(pages))("the page: %s", (_, html) => {
  const { elements, errors } = readPage(html);

  it("is HTML that a parser takes without an error", () => {
    expect(errors).toEqual([]);
  });

  it("runs nothing, asks the network for nothing, and shows what was typed as text", () => {
    expect(elements.filter((e) => ["script", "link", "iframe", "object", "img", "form"].includes(e.tagName))).toEqual(
      [],
    );
    for (const e of elements) for (const a of e.attrs) expect(a.name).not.toMatch(/^on/i);
    expect(html).not.toMatch(/https?:|@import|url\(/i);
  });

  it("draws no coordinate that is not a number", () => {
    expect(html).not.toMatch(/NaN|Infinity|undefined/);
  });
});

const rowsOf = (html: string): Element[] => readPage(html).elements.filter((e) => e.tagName === "tr");

describe("eluents compared", () => {
  it("has one row and one lane for each eluent, the best first", () => {
    const rows = rowsOf(pages.scout).map(textOf).slice(1);
    expect(rows).toHaveLength(ranking.trials.length);
    rows.forEach((row, i) => {
      expect(row).toContain(ranking.trials[i].eluent.text);
    });
    expect(readPage(pages.scout).elements.filter((e) => e.tagName === "ellipse")).toHaveLength(
      ranking.trials.reduce((n, t) => n + t.spots.length, 0),
    );
    expect(readPage(pages.scout).text).toContain("B (chalcone)");
  });
});

describe("column plan", () => {
  it("names the tubes of each component and the figures to pack by", () => {
    const { text } = readPage(pages.plan);
    for (const band of plan.bands)
      expect(text).toContain(`${band.component}: tubes ${band.firstTube}–${band.lastTube}`);
    expect(text).toContain(`${plan.diameterMm} mm`);
    expect(text).toContain(`${plan.sorbentG.toFixed(0)} g`);
    expect(text).toMatch(/never run dry/);
  });

  it("shows what was found below what was planned", () => {
    const { text } = readPage(pages.found);
    expect(text).toContain("planned");
    expect(text).toContain("found");
    expect(text).toContain("the column did what was planned");
  });
});

describe("bench sheet", () => {
  const { elements, text } = readPage(pages.sheet);

  it("draws every tube once, where the rack has it", () => {
    const titles = elements
      .filter((e) => e.tagName === "title")
      .map((t) => t.childNodes.map((n) => ("value" in n ? n.value : "")).join(""));
    const tubes = titles.flatMap((t) => /^Tube (\d+),/.exec(t)?.[1] ?? []).map(Number);
    // Four rows to and fro: the second counts back.
    const order = [...range(1, 8), ...range(9, 16).reverse(), ...range(17, 24), ...range(25, 32).reverse()];
    expect(tubes).toEqual(order.filter((n) => n <= plan.tubes.length));
  });

  it("has a row for each pool with its tubes, volume, flask and boxes to tick", () => {
    for (const pool of sheet.pools) {
      const row = rowsOf(pages.sheet).find((r) => textOf(r).startsWith(pool.id));
      expect(row).toBeDefined();
      expect(textOf(row!)).toContain(`${pool.volumeMl} mL`);
      if (pool.flask) expect(textOf(row!)).toContain(`${pool.flask.flaskMl} mL`);
    }
    const boxes = elements.filter((e) => attribute(e, "class") === "s-box");
    expect(boxes.length).toBeGreaterThanOrEqual(sheet.pools.length * 2);
  });

  it("says the things that must not be forgotten", () => {
    for (const words of [
      /fritted funnel/,
      /half full/,
      /until the spectra/,
      /run again/,
      /proof of purity/,
      /UV lamp/,
      /[Ll]ocal rules/,
    ])
      expect(text).toMatch(words);
  });
});

function range(a: number, b: number): number[] {
  return Array.from({ length: b - a + 1 }, (_, i) => a + i);
}
