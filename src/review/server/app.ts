import { readFile } from "node:fs/promises";
import { Hono } from "hono";
import { bodyLimit } from "hono/body-limit";
import { PlatepoolError } from "../../model/index.ts";
import { DRAWING_CSS, THEME, themeDeclarations } from "../../report/drawing/style.ts";
import type { PhotoFile } from "../../store/index.ts";
import { type ActAnswer, ADDRESS, type PageState } from "../api.ts";
import { type Admission, admitted, MOST_BYTES, sameHouse, strictHeaders } from "./guards.ts";
import type { Newsroom } from "./newsroom.ts";
import { originalPhoto } from "./originals.ts";
import type { PageFiles } from "./pageFiles.ts";
import type { PictureShelf } from "./pictures.ts";

/** What the addresses lead to. */
export interface House {
  readonly admission: Admission;
  readonly folder: string;
  readonly page: PageFiles;
  readonly pictures: PictureShelf;
  readonly news: Newsroom;
  state(): PageState;
  photos(): readonly PhotoFile[];
  /** The bench sheet of the pools as they stand, as a page of its own. */
  sheet(): Promise<string>;
  /** Judges and keeps an act; `request` is whatever came over the wire. */
  act(request: unknown): Promise<ActAnswer>;
  /** Begins to read what an act would have read; answers when that is done. */
  ahead(request: unknown): Promise<void>;
}

/** The addresses of the review server. */
export function reviewApp(house: House): Hono {
  const app = new Hono();
  app.use(strictHeaders);
  app.use(sameHouse(house.admission));
  app.use(admitted(house.admission));
  app.use(bodyLimit({ maxSize: MOST_BYTES, onError: (c) => c.text("This request is too large.\n", 413) }));

  for (const { address, file, type } of house.page)
    app.get(address, async (c) => c.body(await readFile(file, "utf8"), 200, { ...fresh, "Content-Type": type }));

  app.get("/look.css", (c) => c.body(LOOK_CSS, 200, { ...fresh, "Content-Type": "text/css; charset=utf-8" }));
  app.get(ADDRESS.state, (c) => c.json(house.state(), 200, fresh));
  app.get(ADDRESS.events, (c) => house.news.listen(c, { revision: house.state().revision }));
  for (const address of [ADDRESS.act, ADDRESS.ahead])
    app.post(address, async (c) => {
      if (!/^application\/json\b/.test(c.req.header("content-type") ?? ""))
        return c.text("An act comes as application/json.\n", 415);
      const request = await c.req.json<unknown>().catch(() => undefined);
      if (request === undefined) return c.text("This is no JSON.\n", 400);
      if (address === ADDRESS.ahead) {
        await house.ahead(request);
        return c.body(null, 204, fresh);
      }
      const answer = await house.act(request);
      return c.json(answer, "saved" in answer ? 200 : 409, fresh);
    });
  app.get(`${ADDRESS.picture}/:name{[0-9a-f]{32}\\.jpg}`, (c) => {
    const bytes = house.pictures.get(c.req.param("name").slice(0, -4));
    if (bytes === null) return c.notFound();
    return c.body(new Uint8Array(bytes), 200, { "Content-Type": "image/jpeg", ...forEver });
  });
  app.get(ADDRESS.sheet, async (c) => {
    try {
      return c.html(await house.sheet(), 200, { ...fresh, "Content-Security-Policy": SHEET_POLICY });
    } catch (error) {
      if (error instanceof PlatepoolError) return c.text(`${error.message}\n`, 409);
      throw error;
    }
  });
  app.get(`${ADDRESS.original}/:file`, async (c) => {
    const found = await originalPhoto(house.folder, house.photos(), c.req.param("file"));
    if ("why" in found) return c.text(`${found.why}\n`, found.status);
    return c.body(new Uint8Array(found.bytes), 200, { "Content-Type": found.type, ...fresh });
  });
  app.notFound((c) => c.text("There is nothing here.\n", 404));
  app.onError((_, c) => c.text("The server failed on this; what was saved is safe.\n", 500));
  return app;
}

/** The colours and drawing styles that page and report share; a theme that was chosen wins over the system's. */
const LOOK_CSS = `:root{color-scheme:light;${themeDeclarations(THEME.light)}}
@media (prefers-color-scheme:dark){:root{color-scheme:dark;${themeDeclarations(THEME.dark)}}}
:root[data-theme=light]{color-scheme:light;${themeDeclarations(THEME.light)}}
:root[data-theme=dark]{color-scheme:dark;${themeDeclarations(THEME.dark)}}
${DRAWING_CSS}`;

/** The sheet carries its style in itself, so that it can be kept and printed; nothing in it runs. */
const SHEET_POLICY =
  "default-src 'none'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

const fresh = { "Cache-Control": "no-store" };
/** An address that holds the digest of what it leads to never leads to anything else. */
const forEver = { "Cache-Control": "private, max-age=31536000, immutable" };
