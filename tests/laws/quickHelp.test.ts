import { readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { expect, it } from "vitest";

const IMPORT = /^\s*(?:import|export)(?!\s+type\b)[^;]*?from\s+"([^"]+)"|^\s*import\s+"([^"]+)"/gm;

/** Everything that a file imports at load, directly or through others; what it imports later, when called, is left out. */
function loadedWith(file: string, seen = new Set<string>()): Set<string> {
  if (seen.has(file)) return seen;
  seen.add(file);
  for (const [, from, bare] of readFileSync(file, "utf8").matchAll(IMPORT)) {
    const target = from ?? bare;
    if (target.startsWith(".")) loadedWith(join(dirname(file), target), seen);
    else seen.add(target);
  }
  return seen;
}

it("--help loads nothing that only reading needs", () => {
  const loaded = [...loadedWith("src/cli/main.ts")];
  expect(loaded).toContain("commander");
  const heavy = loaded.filter((f) => /^(sharp|opencv-wasm|heic-decode|zod|yaml|write-file-atomic)/.test(f));
  const rooms = loaded.filter((f) =>
    /^src\/(codec|raster|plate|elution|pipeline|render|report|store|review)\//.test(f),
  );
  expect([...heavy, ...rooms]).toEqual([]);
});
