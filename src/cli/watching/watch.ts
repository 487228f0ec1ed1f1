import type { ReadingFlags } from "../reading/options.ts";
import { EXIT, say } from "../terminal/runProgram.ts";
import { tellNews } from "./news.ts";
import { openSession } from "./session.ts";
import { untilStopped } from "./untilStopped.ts";

/**
 * Reads a folder whenever something in it changes, until it is stopped.
 * @returns the exit status
 */
export async function watch(folder: string, flags: ReadingFlags): Promise<number> {
  const quiet = flags.quiet ?? false;
  const news = tellNews(quiet);
  const session = await openSession(folder, flags, { onReading: news.run, onGroup: news.group, onFault: say });
  const stopped = untilStopped(() => session.close(false));
  await session.start();
  if (!quiet) say("watching for photos; Ctrl-C ends it");
  await stopped;
  return EXIT.read;
}
