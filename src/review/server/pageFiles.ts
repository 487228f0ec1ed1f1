import { existsSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { PlatepoolError } from "../../model/index.ts";

/** A file of the page and where it is served. */
export interface PageFile {
  readonly address: string;
  readonly file: string;
  readonly type: string;
}

export type PageFiles = readonly PageFile[];

/** The page as `npm run build` leaves it in dist, seen from dist/cli, where the program is, or from src. */
function builtPage(): string {
  const inDist = !import.meta.url.endsWith(".ts");
  return fileURLToPath(new URL(inDist ? "../review/page/" : "../../../dist/review/page/", import.meta.url));
}

/**
 * @param dir where the bundled page lies
 * @throws PlatepoolError page-not-built
 */
export function pageFiles(dir: string = builtPage()): PageFiles {
  const files: PageFiles = [
    { address: "/", file: join(dir, "index.html"), type: "text/html; charset=utf-8" },
    { address: "/main.js", file: join(dir, "main.js"), type: "text/javascript; charset=utf-8" },
    { address: "/main.css", file: join(dir, "main.css"), type: "text/css; charset=utf-8" },
    { address: "/icon.svg", file: join(dir, "icon.svg"), type: "image/svg+xml" },
  ];
  if (!files.every(({ file }) => existsSync(file)))
    throw new PlatepoolError("page-not-built", "the review page is not built: run npm run build once, then try again");
  return files;
}
