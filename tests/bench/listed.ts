/**
 * Figures of the confidence that spots are listed with, and its fit:
 *   npx tsx tests/bench/listed.ts [--write]
 * support/listedSpots.csv holds whole readings of development runs, one plate a line: who drew it (fifth
 * to twelfth: renderers that share no code with this project's), its level and run, how likely its lines are right,
 * the signs of a mistaken scale, and each listed spot's own confidence, 1 where a true spot of that lane lies within
 * 0.025 in Rf, and how well it lies on the tracks of the run's other spots.
 * Fitted figures are of fits that left out the eighth of the runs that they judge. --write puts weights into the source.
 */
import { readFileSync, writeFileSync } from "node:fs";
import { parseArgs } from "node:util";
import { listedConfidence, type ScaleSigns } from "../../src/pipeline/listedConfidence.ts";
import { expectedCalibrationError, type Forecast } from "./metrics/calibration.ts";
import { fitTwofold, type TwofoldExample, twofoldProbability } from "./support/twoLogistics.ts";

const FILE = new URL("./support/listedSpots.csv", import.meta.url);
const WEIGHTS_FILE = new URL("../../src/pipeline/listedWeights.ts", import.meta.url);
const HEAD = "drawn_by,level,run,log_lines,log_pixels,offset,loose,spots";
/**
 * Renderers differ more than a fit to some of them tells: weights are drawn to those fitted before, to 1296 plates of the fifth to
 * tenth. These stay as they are, else each fit would count the same spots once more.
 */
const RIDGE = 600;
const BEFORE = { a: [-0.094, 0.929, 0.69], b: [0.147, 0.489, 0.2, -32.96, -6.293] };
const FOLDS = 8;

interface ListedSpot extends TwofoldExample {
  readonly set: string;
  readonly run: number;
  readonly confidence: number;
  readonly onTrack: number;
  readonly signs: ScaleSigns;
}

function readSpots(): ListedSpot[] {
  const [head, ...lines] = readFileSync(FILE, "utf8").trimEnd().split("\n");
  if (head !== HEAD) throw new Error(`${FILE.pathname}: the first line is not "${HEAD}"`);
  return lines.flatMap((line) => {
    const [drawnBy, level, run, ...rest] = line.split(",");
    const [logLines, logPixels, offset, loose] = rest.slice(0, 4).map(Number);
    const signs = { logLines, logPixels, offset, loose };
    return rest[4].split(" ").map((spot) => {
      const [confidence, right, onTrack] = spot.split(":").map(Number);
      const sure = Math.min(0.9999, Math.max(0.0001, confidence));
      const a = [1, Math.log(sure / (1 - sure)), onTrack];
      const b = [1, logLines, logPixels, offset, loose];
      return { set: `${drawnBy} ${level}`, run: Number(run), confidence: sure, onTrack, signs, a, b, y: right === 1 };
    });
  });
}

const { values } = parseArgs({ options: { write: { type: "boolean", default: false } } });
const spots = readSpots();
const folds = Array.from({ length: FOLDS }, (_, f) =>
  fitTwofold(
    spots.filter((s) => s.run % FOLDS !== f),
    RIDGE,
    BEFORE,
  ),
);
const told: Record<string, (s: ListedSpot) => number> = {
  "as a spot": (s) => s.confidence,
  "as listed": (s) => listedConfidence(s, s.onTrack, s.signs),
  "fitted without it": (s) => twofoldProbability(folds[s.run % FOLDS], s),
};
console.log("calibration error, and mean confidence less share right");
for (const set of [...new Set(spots.map((s) => s.set))].sort()) {
  const own = spots.filter((s) => s.set === set);
  const figures = Object.entries(told).map(([name, of]) => {
    const forecasts = own.map((s): Forecast => ({ confidence: of(s), right: s.y }));
    const over = forecasts.reduce((sum, f) => sum + f.confidence - (f.right ? 1 : 0), 0) / own.length;
    return `${name} ${expectedCalibrationError(forecasts).toFixed(3)} (${over < 0 ? "" : "+"}${over.toFixed(3)})`;
  });
  console.log(`  ${set.padEnd(14)} ${String(own.length).padStart(5)} spots  ${figures.join("  ")}`);
}
const { a, b } = fitTwofold(spots, RIDGE, BEFORE);
const list = (w: readonly number[]) => `[${w.map((v) => Number(v.toFixed(3))).join(", ")}]`;
console.log(`fitted to all: spot ${list(a)}, plate ${list(b)}`);
if (values.write)
  writeFileSync(
    WEIGHTS_FILE,
    `/** Fitted on whole readings of plates of eight renderers; where they come from and how to fit anew: docs/methods/spots.md. */
export const WEIGHTS = {
  spot: ${list(a)},
  plate: ${list(b)},
} as const;
`,
  );
