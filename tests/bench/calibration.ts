/**
 * Figures of the decision on simulated readings of plates, seeds held apart from those used in building and fitting:
 *   npx tsx tests/bench/calibration.ts [--runs N]          figures per level, table, docs/methods/reliability.svg
 *   npx tsx tests/bench/calibration.ts --fit [--runs N]    fits the confidence map on runs of its own, writes the constants
 *   npx tsx tests/bench/calibration.ts --fit --pairs F     the same, spotted tubes from photos as read: [{confidence, right}, …]
 */
import { readFileSync, writeFileSync } from "node:fs";
import { parseArgs } from "node:util";
import { decideElution } from "../../src/elution/index.ts";
import { SEEN_MAP, UNSEEN_MAP } from "../../src/elution/pools/calibrationConstants.ts";
import { fitBetaCalibration, uncalibrated } from "../elution/support/betaCalibration.ts";
import { brierScore, calibrationError, type Judged, reliabilityBins } from "../elution/support/calibrationError.ts";
import { LEVELS, type Level } from "../elution/support/levels.ts";
import { reliabilityDiagram } from "../elution/support/reliabilityDiagram.ts";
import { scoreRun, summarise } from "../elution/support/score.ts";
import { simulateRun } from "../elution/support/simulate.ts";

/** Seeds up to 9999 are for building; these two ranges are for nothing else. */
const FIT_SEEDS = 100_000;
const HELD_OUT_SEEDS = 500_000;
const CONSTANTS = new URL("../../src/elution/pools/calibrationConstants.ts", import.meta.url);
const DIAGRAM = new URL("../../docs/methods/reliability.svg", import.meta.url);

interface TubePair {
  readonly confidence: number;
  readonly right: boolean;
  readonly seen: boolean;
}

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

function fitMaps(pairs: readonly TubePair[]): void {
  const lines = ([true, false] as const).map((seen) => {
    const own = pairs.filter((p) => p.seen === seen);
    const map = seen ? SEEN_MAP : UNSEEN_MAP;
    const fitted = fitBetaCalibration(own.map((p) => ({ p: uncalibrated(p.confidence, map), right: p.right })));
    const f = (v: number) => Number(v.toFixed(4));
    return `/** ${seen ? "Tubes that a lane shows" : "Tubes nobody spotted"}; fitted to ${own.length} tubes. */
export const ${seen ? "SEEN" : "UNSEEN"}_MAP: CalibrationMap = { a: ${f(fitted.a)}, b: ${f(fitted.b)}, c: ${f(fitted.c)} };
`;
  });
  const head = `import type { CalibrationMap } from "./calibrationMap.ts";

// Written by \`npx tsx tests/bench/calibration.ts --fit\`; do not edit by hand.
`;
  writeFileSync(CONSTANTS, head + lines.join(""));
  process.stdout.write(lines.join(""));
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

const { values } = parseArgs({
  options: { fit: { type: "boolean", default: false }, pairs: { type: "string" }, runs: { type: "string" } },
});
if (!values.fit) report(Number(values.runs ?? 150));
else {
  const simulated = LEVELS.flatMap((level) => judge(level, FIT_SEEDS, Number(values.runs ?? 250)).judged);
  const photos = values.pairs ? (JSON.parse(readFileSync(values.pairs, "utf8")) as Judged[]) : null;
  // Photos in which nobody spotted a tube tell nothing of it: those tubes come from simulated readings in any case.
  fitMaps(photos ? [...photos.map((p) => ({ ...p, seen: true })), ...simulated.filter((p) => !p.seen)] : simulated);
}
