import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";

const CORE = ["model", "math", "raster", "plate", "elution", "planning", "render", "report", "decisions", "pipeline"];
const BANNED = /\bMath\.random\b|\bDate\.now\b|\bnew Date\(\)|\bperformance\.now\b/;

function sources(dir: string): string[] {
  return readdirSync(dir, { recursive: true, encoding: "utf8" })
    .filter((f) => /\.tsx?$/.test(f))
    .map((f) => join(dir, f));
}

describe("the core has no clock and no unseeded chance", () => {
  it.each(CORE)("src/%s", (room) => {
    const breaches = sources(join("src", room)).filter((f) => BANNED.test(readFileSync(f, "utf8")));
    expect(breaches).toEqual([]);
  });
});
