import { existsSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Browser, BrowserContext, BrowserContextOptions, Page } from "playwright-core";
import { expect } from "vitest";
import type { JournalLine } from "../../../src/model/index.ts";
import { openReview, type Reader } from "../../../src/review/server/index.ts";
import { startBrowser } from "../../support/browser.ts";
import { bundlePage } from "../../support/page.ts";

/** What comes true in time: on a busy machine an answer may come late. */
export const eventually = <T>(look: () => T | Promise<T>, wait = { timeout: 15_000 }) => expect.poll(look, wait);

/** The review page of a reader, open in a real Chromium. */
export interface Tab {
  readonly folder: string;
  readonly context: BrowserContext;
  readonly page: Page;
  /** What went wrong in the page, and what it asked of others. */
  readonly faults: readonly string[];
  journal(): JournalLine[];
  /** Waits until all is saved. */
  saved(): Promise<void>;
}

export interface House {
  open(reader: Reader, options: BrowserContextOptions): Promise<Tab>;
  close(): Promise<void>;
}

/** A browser and the bundled page, for several tabs. */
export async function openHouse(): Promise<House> {
  const [pageDir, browser]: [string, Browser] = await Promise.all([bundlePage(), startBrowser()]);
  const ends: (() => Promise<void>)[] = [];
  return {
    async open(reader, options) {
      const folder = mkdtempSync(join(tmpdir(), "tab-"));
      const sheet = async () => "<!doctype html><title>sheet</title>";
      const clock = () => new Date().toISOString();
      const review = await openReview({ folder, reader, port: 0, clock, sheet, pageDir });
      const context = await browser.newContext(options);
      const page = await context.newPage();
      const faults: string[] = [];
      page.setDefaultTimeout(10_000);
      page.on("pageerror", (error) => faults.push(error.message));
      page.on("console", (message) => message.type() === "error" && faults.push(message.text()));
      page.on("request", (request) => {
        if (!request.url().startsWith(`http://127.0.0.1:${review.port}/`)) faults.push(`asked for ${request.url()}`);
      });
      await page.goto(review.link);
      ends.push(async () => {
        await context.close();
        await review.close();
        rmSync(folder, { recursive: true, force: true });
      });
      const path = join(folder, "decisions.jsonl");
      return {
        ...{ folder, context, page, faults },
        journal: () =>
          existsSync(path)
            ? readFileSync(path, "utf8")
                .trim()
                .split("\n")
                .slice(1)
                .map((line) => JSON.parse(line))
            : [],
        saved: () =>
          expect
            .poll(() => page.locator("[data-safety]").getAttribute("data-safety"), { timeout: 10_000 })
            .toBe("safe"),
      };
    },
    async close() {
      for (const end of ends) await end();
      await browser.close();
      rmSync(pageDir, { recursive: true });
    },
  };
}
