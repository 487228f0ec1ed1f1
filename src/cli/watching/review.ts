import { PlatepoolError } from "../../model/index.ts";
import { asDecided } from "../../pipeline/index.ts";
import { tubeAt } from "../../planning/index.ts";
import { sheetHtml } from "../../report/planning/index.ts";
import { openReview, type Reader } from "../../review/server/index.ts";
import { readJournal } from "../../store/index.ts";
import { openBench } from "../bench/openBench.ts";
import { makeSheet } from "../bench/sheet.ts";
import type { ReadingFlags } from "../reading/options.ts";
import { EXIT, say } from "../terminal/runProgram.ts";
import { tellNews } from "./news.ts";
import { openSession } from "./session.ts";
import { untilStopped } from "./untilStopped.ts";

export interface ReviewFlags extends ReadingFlags {
  readonly port: number;
  readonly open: boolean;
}

/**
 * Serves the review page of a folder until it is stopped, and reads the folder whenever something in it changes.
 * @returns the exit status
 */
export async function review(folder: string, flags: ReviewFlags): Promise<number> {
  const news = tellNews(true);
  const session = await openSession(folder, flags, { onReading: news.run, onGroup: news.group, onFault: say });
  const { reader } = session;
  const clock = () => new Date().toISOString();
  const sheet = () => benchSheet(folder, reader);
  const page = await openReview({ folder, reader, port: flags.port, clock, sheet }).catch(async (error) => {
    await session.close(true);
    throw error;
  });
  const stopped = untilStopped(async () => {
    await page.close();
    if (!flags.quiet) say("writing the results; what was decided is safe already");
    await session.close(false);
  });
  process.stdout.write(`review: ${page.link}\n`);
  if (!flags.quiet) say("Ctrl-C ends it");
  if (flags.open) await openBrowser(page.link);
  await session.start();
  await stopped;
  return EXIT.read;
}

/** The bench sheet of the pools as they stand in the page. */
async function benchSheet(folder: string, { reading }: Reader): Promise<string> {
  if (reading === null)
    throw new PlatepoolError("no-tubes", "nothing has been read yet, so there is nothing to combine");
  // Nobody should combine tubes by pools that are not the ones decided.
  const { unusable } = await readJournal(folder);
  if (unusable) throw unusable;
  return sheetHtml(makeSheet(await openBench(folder), asDecided(reading.result), {}), tubeAt);
}

/** A machine without a browser is no fault: the link stands in the terminal. */
async function openBrowser(link: string): Promise<void> {
  try {
    const { default: open } = await import("open");
    const browser = await open(link);
    browser.on("error", () => undefined);
  } catch {
    say("no browser could be opened: open the link above");
  }
}
