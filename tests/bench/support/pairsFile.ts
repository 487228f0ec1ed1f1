import { readFileSync, writeFileSync } from "node:fs";
import type { RunPair } from "../../elution/support/betaCalibration.ts";

/** A spotted tube of photos as read: chance of the suggested pool before calibration, scatter of its run's amounts. */
export interface TubePair extends RunPair {
  /** By this project's renderer (tests/bench/tubePairs.ts), or by a second one that shares no code with it (development seeds). */
  readonly drawnBy: "own" | "second";
}

const FILE = new URL("./tubePairs.csv", import.meta.url);
const HEAD = "drawn_by,chance,scatter,right";

export function readPairs(): TubePair[] {
  const [head, ...lines] = readFileSync(FILE, "utf8").trimEnd().split("\n");
  if (head !== HEAD) throw new Error(`${FILE.pathname}: the first line is not "${HEAD}"`);
  return lines.map((line) => {
    const [drawnBy, p, scatter, right] = line.split(",");
    return { drawnBy: drawnBy as TubePair["drawnBy"], p: Number(p), scatter: Number(scatter), right: right === "1" };
  });
}

export function writePairs(pairs: readonly TubePair[]): void {
  const lines = pairs.map(
    (t) => `${t.drawnBy},${Number(t.p.toFixed(5))},${Number(t.scatter.toFixed(3))},${t.right ? 1 : 0}`,
  );
  writeFileSync(FILE, `${[HEAD, ...lines].join("\n")}\n`);
}
