/**
 * How long a decision takes: simulated readings of 58 tubes and 6 components on 15 plates, the most laborious of 3600, at
 * three levels, over sorting a million numbers in the same process (about a tenth of a second where this was written).
 *   npx tsx tests/bench/decision.ts [--repeats 15]
 * Ends with status 1 where a decision takes more than twice the sort: 200 ms there.
 */
import { parseArgs } from "node:util";
import { decideElution } from "../../src/elution/index.ts";
import { LEVELS } from "../elution/support/levels.ts";
import { simulateRun } from "../elution/support/simulate.ts";

const SEED = 600_411;
const BAR = 2;
const { values } = parseArgs({ options: { repeats: { type: "string", default: "15" } } });
const repeats = Number(values.repeats);

/** Least time of several, ms: what else the machine does can only add to it. */
function least(work: () => void): number {
  let best = Number.POSITIVE_INFINITY;
  for (let i = 0; i < repeats; i++) {
    const start = performance.now();
    work();
    best = Math.min(best, performance.now() - start);
  }
  return best;
}

const numbers = Float64Array.from({ length: 1_000_000 }, (_, i) => (i * 0.6180339887498949) % 1);
const sort = least(() => numbers.slice().sort());
console.log(`sorting a million numbers: ${sort.toFixed(0)} ms`);
for (const level of LEVELS) {
  const { plates, fractionCount, column } = simulateRun(SEED, level);
  const ms = least(() => decideElution(plates, { fractionCount, volumeMl: 10, policy: "balance", want: null }));
  const size = `${fractionCount} tubes, ${column.substances.length} components, ${plates.length} plates`;
  console.log(`${level.name.padEnd(6)} ${size}: ${ms.toFixed(0)} ms, ${(ms / sort).toFixed(2)} times the sort`);
  if (ms > BAR * sort) process.exitCode = 1;
}
