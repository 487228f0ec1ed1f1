import { mkdtempSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { build } from "esbuild";

/** Bundles the review page from its source, as `npm run build:page` does, into a folder of its own. */
export async function bundlePage(): Promise<string> {
  const outdir = mkdtempSync(join(tmpdir(), "platepool-page-"));
  const page = "src/review/page";
  await build({
    entryPoints: [`${page}/main.tsx`, `${page}/index.html`, `${page}/icon.svg`],
    outdir,
    bundle: true,
    minify: true,
    format: "esm",
    target: "es2022",
    jsx: "automatic",
    jsxImportSource: "preact",
    loader: { ".html": "copy", ".svg": "copy" },
    logLevel: "warning",
  });
  return outdir;
}
