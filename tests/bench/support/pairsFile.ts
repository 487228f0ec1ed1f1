import { readFileSync, writeFileSync } from "node:fs";
import type { RunPair } from "../../elution/support/betaCalibration.ts";

/** A tube of photos as read: chance of the suggested pool before calibration, signs of a misread plate. */
export interface TubePair extends RunPair {
  /** By this project's renderer, or by one that shares no code with it (development seeds). */
  readonly drawnBy: "own" | "second" | "third" | "fourth" | "fifth" | "sixth" | "seventh";
}

const FILE = new URL("./tubePairs.csv", import.meta.url);
const UNSPOTTED = new URL("./unspottedPairs.csv", import.meta.url);
const HEAD = "drawn_by,chance,scatter,doubt,unexplained,blur,faintness,lines_wrong,right";

/** Tubes that a lane shows; our own part is made by tests/bench/tubePairs.ts. */
export function readPairs(): TubePair[] {
  return pairsOf(FILE);
}

/** Tubes that nobody spotted, of photos of this project's and of three further renderers. */
export function readUnspotted(): TubePair[] {
  return pairsOf(UNSPOTTED);
}

function pairsOf(file: URL): TubePair[] {
  const [head, ...lines] = readFileSync(file, "utf8").trimEnd().split("\n");
  if (head !== HEAD) throw new Error(`${file.pathname}: the first line is not "${HEAD}"`);
  return lines.map((line) => {
    const [drawnBy, ...figures] = line.split(",");
    const [p, scatter, doubt, unexplained, blur, faintness, linesWrong, right] = figures.map(Number);
    const signs = { scatter, doubt, unexplained, blur, faintness, linesWrong };
    return { drawnBy: drawnBy as TubePair["drawnBy"], p, ...signs, right: right === 1 };
  });
}

export function writePairs(pairs: readonly TubePair[]): void {
  const short = (v: number) => Number(v.toFixed(3));
  const lines = pairs.map((t) =>
    [
      t.drawnBy,
      Number(t.p.toFixed(5)),
      ...[t.scatter, t.doubt, t.unexplained, t.blur, t.faintness, t.linesWrong].map(short),
      t.right ? 1 : 0,
    ].join(","),
  );
  writeFileSync(FILE, `${[HEAD, ...lines].join("\n")}\n`);
}
