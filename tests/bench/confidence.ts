/**
 * Fits the confidence of spots, that of the second look, on rendered development plates, and tells how good it is:
 *   npx tsx tests/bench/confidence.ts [--level easy,normal,hard] [--runs 12] [--seed 1] [--write]
 * Each plate is straightened by its true corners and read up to the candidates. A candidate is right if a true spot of
 * its lane lies within 0.03 in Rf, one candidate a spot. Figures are of fits that left the run out which they judge.
 * --write puts the weights into src/plate/spots/evidenceWeights.ts; without it nothing is changed.
 */
import { writeFileSync } from "node:fs";
import { parseArgs } from "node:util";
import { decodePhoto, encodeJpeg } from "../../src/codec/index.ts";
import type { Quad } from "../../src/model/index.ts";
import { plateSize, prepareView } from "../../src/plate/index.ts";
import { findLanes } from "../../src/plate/lanes/index.ts";
import { findMigration } from "../../src/plate/migration/index.ts";
import { candidateSpots, type JudgedSpot } from "../../src/plate/spots/index.ts";
import {
  LEVELS,
  type Level,
  type PlateTruth,
  planRun,
  type RunTruth,
  renderRun,
  type SpotTruth,
} from "../../src/render/index.ts";
import { expectedCalibrationError } from "./metrics/calibration.ts";
import { f1, precision, recall } from "./metrics/score.ts";
import { RF_TOLERANCE } from "./metrics/spots.ts";
import { type Example, fitLogistic, logisticProbability } from "./support/logistic.ts";

const WEIGHTS_FILE = new URL("../../src/plate/spots/evidenceWeights.ts", import.meta.url);
/** As `readRun` reads. */
const READ_SIDE = 2000;
const RIDGE = 1;
/** From here on seeds are held back from development. */
const HELD_BACK = 10_000;
/** A plate whose origin, front or lanes are found farther off than this teaches the wrong labels: left out. */
const LINE_OFF = 0.012;
const LANE_OFF = 0.35;

interface Candidate extends Example {
  readonly run: string;
  /** The true spot is one that must be found. */
  readonly must: boolean;
  /** Confidence by the weights in use. */
  readonly now: number;
}

interface Sample {
  readonly candidates: Candidate[];
  /** Spots that must be found and are not even candidates, by run. */
  readonly unseen: string[];
  plates: number;
  left: number;
}

interface Shown {
  readonly picture: Awaited<ReturnType<typeof decodePhoto>>["picture"];
  readonly scale: number;
}

/** Draws a run; photos go through JPEG as a camera's do. */
async function draw(level: Level, seed: number): Promise<{ truth: RunTruth; shown: Map<string, Shown> }> {
  const photos = renderRun(planRun(level, seed));
  const shown = new Map<string, Shown>();
  let step = photos.next();
  for (; !step.done; step = photos.next()) {
    const { file, picture, quality } = step.value;
    shown.set(file, await decodePhoto(await encodeJpeg(picture, quality), file, { maxLongSide: READ_SIDE }));
  }
  return { truth: step.value, shown };
}

function viewsOf(plate: PlateTruth, truth: RunTruth, shown: ReadonlyMap<string, Shown>): Prepared[] {
  const views = plate.photos.map((index) => {
    const photo = truth.photos[index];
    const { picture, scale } = shown.get(photo.file)!;
    const corners = photo.plates.find((p) => p.plate === plate.id)!.corners;
    const quad = corners.map(([x, y]) => [x / scale, y / scale]) as unknown as Quad;
    return { picture, quad, light: photo.light };
  });
  const size = plateSize(views, plate.lanes.length);
  return views.map((view) => prepareView(view, size));
}

type Prepared = ReturnType<typeof prepareView>;

/** Candidates of every lane, or null where lines or lanes are too far off to label them. */
function candidatesOf(plate: PlateTruth, views: readonly Prepared[]): JudgedSpot[][] | null {
  const maps = views.map((v) => v.map);
  const marks = views.map((v) => v.marks);
  const { origin, front } = findMigration(maps, marks, { origin: null, front: null });
  if (Math.abs(origin.y - plate.origin) > LINE_OFF || Math.abs(front.y - plate.front) > LINE_OFF) return null;
  const { tracks, pitch } = findLanes(maps, marks, { count: plate.lanes.length, origin, front });
  const off = plate.lanes.some((lane, i) => !(Math.abs(lane.x - (tracks[i]?.x ?? Number.NaN)) < LANE_OFF * pitch));
  if (off || tracks.length !== plate.lanes.length) return null;
  const mixtures = plate.lanes.map(({ fraction }) => fraction === null);
  return candidateSpots(maps, { origin, front, tracks, pitch }, marks, mixtures);
}

/** Pairs the true spots of a lane, the most visible first, each with the nearest free candidate. */
function label(truth: readonly SpotTruth[], inLane: readonly JudgedSpot[]): Map<JudgedSpot, SpotTruth> {
  const pairs = new Map<JudgedSpot, SpotTruth>();
  const contrast = (s: SpotTruth) => Math.max(0, ...s.visibility.map((v) => v.contrast));
  for (const spot of [...truth].sort((a, b) => contrast(b) - contrast(a))) {
    const far = (c: JudgedSpot) => Math.abs(c.spot.rf - spot.rf);
    const [nearest] = inLane.filter((c) => !pairs.has(c) && far(c) <= RF_TOLERANCE).sort((a, b) => far(a) - far(b));
    if (nearest) pairs.set(nearest, spot);
  }
  return pairs;
}

async function collect(levels: readonly Level[], firstSeed: number, runs: number): Promise<Sample> {
  const sample: Sample = { candidates: [], unseen: [], plates: 0, left: 0 };
  for (const level of levels)
    for (let seed = firstSeed; seed < firstSeed + runs; seed++) {
      const { truth, shown } = await draw(level, seed);
      for (const plate of truth.plates)
        addPlate(sample, plate, candidatesOf(plate, viewsOf(plate, truth, shown)), truth);
      if (process.stderr.isTTY) process.stderr.write(`\r${level}: ${seed - firstSeed + 1} of ${runs} runs `);
    }
  if (process.stderr.isTTY) process.stderr.write("\r\u001b[K");
  return sample;
}

function addPlate(sample: Sample, plate: PlateTruth, lanes: JudgedSpot[][] | null, { run }: RunTruth): void {
  sample.plates++;
  if (!lanes) {
    sample.left++;
    return;
  }
  plate.lanes.forEach((lane, i) => {
    const pairs = label(lane.spots, lanes[i]);
    for (const judged of lanes[i]) {
      const spot = pairs.get(judged);
      sample.candidates.push({
        x: judged.evidence,
        y: spot !== undefined,
        must: spot?.mustFind ?? false,
        run,
        now: judged.spot.confidence,
      });
    }
    const paired = new Set(pairs.values());
    for (const spot of lane.spots) if (spot.mustFind && !paired.has(spot)) sample.unseen.push(run);
  });
}

/** Each candidate's confidence by weights fitted without its run. */
function leaveOneRunOut(candidates: readonly Candidate[]): number[] {
  const weights = new Map<string, number[]>();
  for (const run of new Set(candidates.map((c) => c.run)))
    weights.set(
      run,
      fitLogistic(
        candidates.filter((c) => c.run !== run),
        RIDGE,
      ),
    );
  return candidates.map((c) => logisticProbability(weights.get(c.run)!, c.x));
}

function report(title: string, { candidates, unseen }: Sample, confidence: readonly number[]): void {
  console.log(`\n${title}\n  from  precision  recall  F1`);
  for (const from of [0.3, 0.4, 0.5, 0.6, 0.7]) {
    const taken = candidates.filter((_, i) => confidence[i] > from);
    const hits = taken.filter((c) => c.must).length;
    const all = candidates.filter((c) => c.must).length + unseen.length;
    const tally = { hits, invented: taken.filter((c) => !c.y).length, missed: all - hits };
    const figures = [precision(tally), recall(tally), f1(tally)].map((v) => v.toFixed(3));
    console.log(`  ${from.toFixed(1)}   ${figures[0]}      ${figures[1]}   ${figures[2]}`);
  }
  const forecasts = candidates.map((c, i) => ({ confidence: confidence[i], right: c.y }));
  console.log(`  calibration error ${expectedCalibrationError(forecasts).toFixed(3)}`);
}

function weightsFile(weights: readonly number[]): string {
  const rows: string[] = [];
  for (const w of weights.map((v) => `${Number(v.toFixed(3))}`)) {
    const last = rows.length - 1;
    if (last >= 0 && `  ${rows[last]}, ${w},`.length <= 120) rows[last] += `, ${w}`;
    else rows.push(w);
  }
  return `/** Fitted by \`npx tsx tests/bench/confidence.ts\` on rendered development plates; see docs/methods/spots.md. */
export const WEIGHTS: readonly number[] = [
${rows.map((row) => `  ${row},\n`).join("")}];
`;
}

const { values } = parseArgs({
  options: {
    level: { type: "string", default: "easy,normal,hard" },
    runs: { type: "string", default: "12" },
    seed: { type: "string", default: "1" },
    write: { type: "boolean", default: false },
  },
});
const levels = values.level.split(",") as Level[];
const runs = Number(values.runs);
const seed = Number(values.seed);
const known = levels.every((level) => LEVELS.includes(level));
if (!known || !(runs >= 2) || !(seed >= 0) || seed + runs > HELD_BACK) {
  console.error(`give --level of ${LEVELS.join(", ")}, at least two --runs, and seeds below ${HELD_BACK}`);
  process.exit(2);
}
const sample = await collect(levels, seed, runs);
const { candidates, unseen } = sample;
console.log(
  `${runs} runs of ${levels.join(", ")}: ${sample.plates - sample.left} plates (${sample.left} left out, lines or lanes off), ` +
    `${candidates.length} candidates, ${candidates.filter((c) => c.y).length} right; ${unseen.length} spots are no candidates`,
);
report(
  "weights in use",
  sample,
  candidates.map((c) => c.now),
);
report("fitted anew, each run judged without itself", sample, leaveOneRunOut(candidates));
const weights = fitLogistic(candidates, RIDGE);
console.log(`\n${weights.map((w) => w.toFixed(3)).join(", ")}`);
if (values.write) writeFileSync(WEIGHTS_FILE, weightsFile(weights));
