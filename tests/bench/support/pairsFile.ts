import { readFileSync, writeFileSync } from "node:fs";
import type { RunPair } from "../../elution/support/betaCalibration.ts";

/** A spotted tube of photos as read: chance of the suggested pool before calibration, signs of a misread plate. */
export interface TubePair extends RunPair {
  /** By this project's renderer (tests/bench/tubePairs.ts), or by one of three that share no code with it (development seeds). */
  readonly drawnBy: "own" | "second" | "third" | "fourth";
}

const FILE = new URL("./tubePairs.csv", import.meta.url);
const HEAD = "drawn_by,chance,scatter,doubt,unexplained,blur,faintness,assumed,right";

export function readPairs(): TubePair[] {
  const [head, ...lines] = readFileSync(FILE, "utf8").trimEnd().split("\n");
  if (head !== HEAD) throw new Error(`${FILE.pathname}: the first line is not "${HEAD}"`);
  return lines.map((line) => {
    const [drawnBy, ...figures] = line.split(",");
    const [p, scatter, doubt, unexplained, blur, faintness, assumed, right] = figures.map(Number);
    const signs = { scatter, doubt, unexplained, blur, faintness, assumed };
    return { drawnBy: drawnBy as TubePair["drawnBy"], p, ...signs, right: right === 1 };
  });
}

export function writePairs(pairs: readonly TubePair[]): void {
  const short = (v: number) => Number(v.toFixed(3));
  const lines = pairs.map((t) =>
    [
      t.drawnBy,
      Number(t.p.toFixed(5)),
      ...[t.scatter, t.doubt, t.unexplained, t.blur, t.faintness, t.assumed].map(short),
      t.right ? 1 : 0,
    ].join(","),
  );
  writeFileSync(FILE, `${[HEAD, ...lines].join("\n")}\n`);
}
