/**
 * Figures of the decision on simulated readings of plates, seeds held apart from those used in building and fitting:
 *   npx tsx tests/bench/calibration.ts [--runs N]          figures per level, table, docs/methods/reliability.svg
 *   npx tsx tests/bench/calibration.ts --fit               fits the confidence maps, writes the constants: tubes of photos
 *                                                          as read, spotted (support/tubePairs.csv, made by tubePairs.ts)
 *                                                          and not (support/unspottedPairs.csv)
 */
import { writeFileSync } from "node:fs";
import { parseArgs } from "node:util";
import { decideElution } from "../../src/elution/index.ts";
import type { CalibrationMap } from "../../src/elution/pools/calibrationMap.ts";
import { fitConfidence, fitRead } from "../elution/support/betaCalibration.ts";
import { brierScore, calibrationError, reliabilityBins } from "../elution/support/calibrationError.ts";
import { LEVELS, type Level } from "../elution/support/levels.ts";
import { reliabilityDiagram } from "../elution/support/reliabilityDiagram.ts";
import { scoreRun, summarise } from "../elution/support/score.ts";
import { simulateRun } from "../elution/support/simulate.ts";
import { readPairs, readUnspotted } from "./support/pairsFile.ts";

/** Seeds up to 9999 are for building; these are for nothing else. */
const HELD_OUT_SEEDS = 500_000;
const CONSTANTS = new URL("../../src/elution/pools/calibrationConstants.ts", import.meta.url);
const DIAGRAM = new URL("../../docs/methods/reliability.svg", import.meta.url);

function judge(level: Level, firstSeed: number, runs: number) {
  const scores = [];
  let milliseconds = 0;
  for (let i = 0; i < runs; i++) {
    const run = simulateRun(firstSeed + i, level);
    const start = performance.now();
    const { value } = decideElution(run.plates, {
      fractionCount: run.fractionCount,
      volumeMl: 10,
      policy: "balance",
      want: null,
    });
    milliseconds += performance.now() - start;
    scores.push(scoreRun(run, value));
  }
  return { ...summarise(scores), milliseconds: milliseconds / runs };
}

function fitMaps(): void {
  const spotted = readPairs();
  const { map, misread } = fitConfidence(spotted);
  const unspotted = readUnspotted();
  const f = (v: number) => Number(v.toFixed(4));
  const text = ({ a, b, c }: CalibrationMap) => `{ a: ${f(a)}, b: ${f(b)}, c: ${f(c)} }`;
  const lines = `import type { CalibrationMap, MisreadMap } from "./calibrationMap.ts";

// Written by \`npx tsx tests/bench/calibration.ts --fit\`; do not edit by hand.
/** Tubes that a lane shows; fitted to ${spotted.length} tubes. */
export const SEEN_MAP: CalibrationMap = ${text(map)};
/** Tubes nobody spotted; fitted to ${unspotted.length} tubes. */
export const UNSEEN_MAP: CalibrationMap = ${text(fitRead(unspotted, misread))};
/** Plates misread, by their signs; fitted with the tubes that a lane shows. */
export const MISREAD: MisreadMap = {
  base: ${f(misread.base)},
  perScatter: ${f(misread.perScatter)},
  perDoubt: ${f(misread.perDoubt)},
  perUnexplained: ${f(misread.perUnexplained)},
  perBlur: ${f(misread.perBlur)},
  perFaintness: ${f(misread.perFaintness)},
};
`;
  writeFileSync(CONSTANTS, lines);
  process.stdout.write(lines);
}

function report(runs: number): void {
  const per = (v: number) => `${(100 * v).toFixed(1)} %`.padStart(8);
  const results = LEVELS.map((level) => ({ level, ...judge(level, HELD_OUT_SEEDS, runs) }));
  const rows: [string, (r: (typeof results)[number]) => string][] = [
    ["tube state right", (r) => per(r.state)],
    ["components (adjusted Rand)", (r) => r.rand.toFixed(3).padStart(8)],
    ["pool pairs F1", (r) => r.poolF1.toFixed(3).padStart(8)],
    ["mixed tubes in clean pools", (r) => per(r.mixedInClean)],
    ["clean tubes thrown away", (r) => per(r.cleanLost)],
    ["calibration error", (r) => calibrationError(r.judged).toFixed(3).padStart(8)],
    ["Brier score", (r) => brierScore(r.judged).toFixed(3).padStart(8)],
    ["tubes suggested for a spot", (r) => String(r.advised).padStart(8)],
    ["  wrong or uncertain", (r) => per(r.advisedWell)],
    ["ms a decision", (r) => r.milliseconds.toFixed(0).padStart(8)],
  ];
  console.log(`${runs} held-out runs a level`);
  console.log(`${"".padEnd(28)}${LEVELS.map((l) => l.name.padStart(9)).join("")}`);
  for (const [name, show] of rows) console.log(name.padEnd(28) + results.map((r) => ` ${show(r)}`).join(""));
  console.log("\nreliability: tubes, mean confidence, share right");
  const series = results.map((r) => ({
    name: r.level.name,
    error: calibrationError(r.judged),
    bins: reliabilityBins(r.judged),
  }));
  for (let b = 0; b < 10; b++) {
    const cell = series.map(({ bins }) =>
      bins[b].count > 0
        ? `${String(bins[b].count).padStart(6)} ${bins[b].confidence.toFixed(2)} ${bins[b].right.toFixed(2)}`
        : "".padStart(16),
    );
    console.log(`${(b / 10).toFixed(1)}–${((b + 1) / 10).toFixed(1)}  ${cell.join("   ")}`);
  }
  writeFileSync(DIAGRAM, reliabilityDiagram(series));
}

const { values } = parseArgs({ options: { fit: { type: "boolean", default: false }, runs: { type: "string" } } });
if (values.fit) fitMaps();
else report(Number(values.runs ?? 150));
