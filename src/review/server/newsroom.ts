import type { Context } from "hono";
import { streamSSE } from "hono/streaming";
import { NEWS, type News } from "../api.ts";

/** Tells every open page that there is something new. */
export interface Newsroom {
  tell(news: News): void;
  /** Answers a request for events; ends when the page goes or the newsroom closes. */
  listen(c: Context, now: News): Response;
  close(): void;
}

const HEARTBEAT_MS = 15_000;

export function newsroom(): Newsroom {
  /** One bell for each open page. */
  const bells = new Set<() => void>();
  let newest: News = { revision: 0 };
  let open = true;
  const ring = () => {
    for (const bell of [...bells]) bell();
  };
  return {
    tell(news) {
      newest = news;
      ring();
    },
    listen: (c, now) => {
      newest = now;
      return streamSSE(c, async (stream) => {
        let wake = (): void => undefined;
        const bell = () => wake();
        bells.add(bell);
        stream.onAbort(bell);
        let told = -1;
        while (open && !stream.aborted) {
          if (newest.revision !== told) {
            told = newest.revision;
            await stream.writeSSE({ event: NEWS, data: JSON.stringify(newest) });
            continue;
          }
          const beat = await new Promise<boolean>((resolve) => {
            const timer = setTimeout(() => resolve(true), HEARTBEAT_MS);
            wake = () => {
              clearTimeout(timer);
              resolve(false);
            };
          });
          // A heartbeat finds out about pages that went without a word.
          if (beat) await stream.write(": here\n\n");
        }
        bells.delete(bell);
      });
    },
    close() {
      open = false;
      ring();
    },
  };
}
