import type { Browser } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it, vi } from "vitest";
import type { Result } from "../../../src/model/index.ts";
import { buildSheet, logTubes, planAgain, tubeAt } from "../../../src/planning/index.ts";
import { sheetHtml } from "../../../src/report/planning/index.ts";
import { startBrowser } from "../../support/browser.ts";
import { sampleResult } from "../support/sampleResult.ts";

// A browser starts slowly on a machine that may be busy.
vi.setConfig({ testTimeout: 120_000, hookTimeout: 120_000 });

let browser: Browser;
beforeAll(async () => {
  browser = await startBrowser();
});
afterAll(() => browser.close());

/** Pages that a browser prints of an HTML file, in the size that the file asks for. */
async function pagesOf(html: string): Promise<{ pages: number; a4: boolean }> {
  const page = await browser.newPage();
  await page.setContent(html);
  const pdf = (await page.pdf({ preferCSSPageSize: true })).toString("latin1");
  await page.close();
  const [, width, height] = /\/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]/.exec(pdf) ?? [];
  const a4 = Math.abs(Number(width) - 595.3) < 1 && Math.abs(Number(height) - 841.9) < 1;
  return { pages: pdf.match(/\/Type \/Page\b(?!s)/g)?.length ?? 0, a4 };
}

/** The sample with its tubes in as many pools, clean and mixed in turn. */
function inPools(tubes: number, count: number): Result {
  const result = sampleResult({ tubes });
  const [clean] = result.pools.filter((p) => p.kind === "clean");
  const [mixed] = result.pools.filter((p) => p.kind === "mixed");
  const each = tubes / count;
  return {
    ...result,
    pools: Array.from({ length: count }, (_, k) => ({
      ...(k % 2 === 0 ? clean : mixed),
      id: String(k + 1),
      fractions: Array.from({ length: each }, (_, i) => k * each + i + 1),
    })),
  };
}

function sheetOf(result: Result, racks: number, planned = true): string {
  const tubes = result.fractions.length;
  const notes = [
    { from: 17, to: 17, volumeMl: 4, eluent: null, flask: null, note: "ran over, some of it lost" },
    { from: 20, to: tubes, volumeMl: null, eluent: "hexane/ethyl acetate 1:1", flask: "2", note: null },
  ];
  return sheetHtml(
    buildSheet({
      result,
      log: logTubes(tubes, 10, notes, "hexane/ethyl acetate 4:1"),
      rack: { rows: 6, columns: tubes / racks / 6, fill: "serpentine", start: "top-left" },
      racks,
      largestFlaskMl: 250,
      again: planned
        ? result.pools
            .filter((p) => p.kind === "mixed")
            .map((pool) =>
              planAgain(pool, {
                ...{ result, first: null, check: null, weighedMg: 40, givenMg: null, firstLoadMg: 400, want: null },
              }),
            )
        : [],
    }),
    tubeAt,
  );
}

describe("the bench sheet on paper", () => {
  it.each([
    [24, 6, 1],
    [60, 8, 1],
    [96, 12, 2],
  ])("%i tubes in %i pools, %i rack(s): one side of A4, second columns planned or not", async (tubes, pools, racks) => {
    for (const planned of [true, false])
      expect(await pagesOf(sheetOf(inPools(tubes, pools), racks, planned))).toEqual({ pages: 1, a4: true });
  });

  it("and this would tell a second page", async () => {
    const long = sheetOf(inPools(60, 8), 1).replace("</main>", `<p style="height:200mm">More</p></main>`);
    expect((await pagesOf(long)).pages).toBe(2);
  });
});
