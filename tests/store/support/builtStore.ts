import { mkdirSync, mkdtempSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { dirname, join, resolve } from "node:path";
import ts from "typescript";

/**
 * The store as JavaScript in a folder of its own, so that a process that uses it starts quickly. Types were checked
 * before; here they are only taken away.
 * @returns the folder; its `store/index.js` is the store
 */
export function builtStore(): string {
  const base = resolve("node_modules/.cache");
  mkdirSync(base, { recursive: true });
  const out = mkdtempSync(join(base, "store-"));
  for (const room of ["model", "store"])
    for (const file of readdirSync(join("src", room), { recursive: true, encoding: "utf8" })) {
      if (!file.endsWith(".ts")) continue;
      const { outputText } = ts.transpileModule(readFileSync(join("src", room, file), "utf8"), {
        compilerOptions: {
          module: ts.ModuleKind.ESNext,
          target: ts.ScriptTarget.ES2022,
          verbatimModuleSyntax: true,
          rewriteRelativeImportExtensions: true,
        },
      });
      const path = join(out, room, file.replace(/\.ts$/, ".js"));
      mkdirSync(dirname(path), { recursive: true });
      writeFileSync(path, outputText);
    }
  writeFileSync(join(out, "package.json"), '{"type":"module"}');
  return out;
}
