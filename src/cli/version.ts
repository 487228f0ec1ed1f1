import { readFileSync } from "node:fs";

/** Version of the program, from its package.json. */
export function version(): string {
  return JSON.parse(readFileSync(new URL("../../package.json", import.meta.url), "utf8")).version;
}
