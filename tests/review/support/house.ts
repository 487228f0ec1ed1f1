import { mkdtempSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Hono } from "hono";
import { type House, reviewApp } from "../../../src/review/server/app.ts";
import { newsroom } from "../../../src/review/server/newsroom.ts";
import { pageFiles } from "../../../src/review/server/pageFiles.ts";
import { pictureShelf } from "../../../src/review/server/pictures.ts";

export const PORT = 4567;
export const TOKEN = "a-token-that-nobody-guesses";
const HOME = `http://127.0.0.1:${PORT}`;

/** A page of three empty files, so that the server needs no build. */
export function emptyPage(): string {
  const dir = mkdtempSync(join(tmpdir(), "page-"));
  for (const file of ["index.html", "main.js", "main.css", "icon.svg"]) writeFileSync(join(dir, file), `of ${file}`);
  return dir;
}

/** The addresses of the server, asked without a network. */
export function houseApp(house: Partial<House> = {}): Hono {
  return reviewApp({
    admission: { port: PORT, token: TOKEN },
    folder: tmpdir(),
    page: pageFiles(emptyPage()),
    pictures: pictureShelf(),
    news: newsroom(),
    state: () => ({ revision: 1 }) as ReturnType<House["state"]>,
    photos: () => [],
    sheet: async () => "<!doctype html><p>sheet</p>",
    act: async () => ({
      refused: "this is a test",
      code: "test",
      state: { revision: 1 } as ReturnType<House["state"]>,
    }),
    ahead: async () => undefined,
    ...house,
  });
}

export interface Ask {
  readonly method?: string;
  readonly headers?: Readonly<Record<string, string>>;
  readonly body?: string;
}

/** Headers of a page of ours in a browser that has the cookie. */
export const OURS = { host: `127.0.0.1:${PORT}`, cookie: `platepool-${PORT}=${TOKEN}`, origin: HOME };

export async function ask(
  app: Hono,
  path: string,
  { method = "GET", headers = OURS, body }: Ask = {},
): Promise<Response> {
  return app.request(`${HOME}${path}`, { method, headers, body });
}
