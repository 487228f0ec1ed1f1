import { randomBytes } from "node:crypto";
import { reviewApp } from "./app.ts";
import { openDesk } from "./desk.ts";
import { newsroom } from "./newsroom.ts";
import { pageFiles } from "./pageFiles.ts";
import type { Reader } from "./reader.ts";
import { listen } from "./serve.ts";

export type { Reader, ShownReading } from "./reader.ts";

export interface ReviewOptions {
  readonly folder: string;
  readonly reader: Reader;
  /** 0 for any that is free. */
  readonly port: number;
  /** ISO 8601. */
  readonly clock: () => string;
  /** Makes the bench sheet of the pools as they stand: a whole HTML page. */
  readonly sheet: () => Promise<string>;
  /** Where the bundled page lies; left out: where the build puts it. */
  readonly pageDir?: string;
}

/** A review that is open. */
export interface Review {
  /** With the token: who has the link may decide. */
  readonly link: string;
  readonly port: number;
  close(): Promise<void>;
}

/**
 * Serves the review page of a run folder on the loopback address.
 * @throws PlatepoolError page-not-built, option-port-taken, option-port-forbidden
 */
export async function openReview({ folder, reader, port, clock, sheet, pageDir }: ReviewOptions): Promise<Review> {
  const page = pageFiles(pageDir);
  const news = newsroom();
  const desk = await openDesk({ folder, reader, clock, onNews: (revision) => news.tell({ revision }) });
  const token = randomBytes(24).toString("base64url");
  const { pictures, state, act, ahead } = desk;
  const listening = await listen(port, (own) =>
    reviewApp({
      admission: { port: own, token },
      folder,
      page,
      pictures,
      news: {
        ...news,
        listen: (c, now) => {
          reader.expectMending();
          return news.listen(c, now);
        },
      },
      state,
      act,
      ahead,
      sheet,
      photos: () => reader.photos,
    }),
  );
  return {
    link: `http://127.0.0.1:${listening.port}/?key=${token}`,
    port: listening.port,
    close: async () => {
      news.close();
      await listening.close();
    },
  };
}
