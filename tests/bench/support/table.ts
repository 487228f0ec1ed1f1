import type { Level } from "../../../src/render/index.ts";
import type { LevelSummary } from "../metrics/summary.ts";

type Row = readonly [label: string, key: keyof LevelSummary, format: "share" | "small" | "whole", bars?: Bars];
type Bars = Readonly<Partial<Record<Level, string>>>;

const bars = (easy: string, normal: string, hard: string, nasty: string): Bars => ({ easy, normal, hard, nasty });

/** What is printed, with what is aimed at. */
const ROWS: readonly Row[] = [
  ["runs", "runs", "whole"],
  ["photos", "photos", "whole"],
  ["plates found", "platesFound", "share", bars(">= .99", ">= .99", ">= .98", ">= .95")],
  ["plates turned wrongly", "platesTurned", "share"],
  ["corner error, median", "cornerErrorMedian", "small", bars("<= .0040", "<= .0050", "<= .0060", "<= .0090")],
  ["lane count right", "laneCountRight", "share", bars(">= .97", ">= .95", ">= .90", ">= .80")],
  ["spot precision", "spotPrecision", "share"],
  ["spot recall", "spotRecall", "share"],
  ["spot F1", "spotF1", "share", bars(">= .98", ">= .95", ">= .90", ">= .82")],
  ["Rf error, mean", "rfErrorMean", "small", bars("<= .0030", "<= .0050", "<= .0070", "<= .0100")],
  ["component agreement (ARI)", "componentAgreement", "share"],
  ["tube state right", "tubeStateRight", "share", bars(">= .96", ">= .93", ">= .87", ">= .78")],
  ["mixed tubes in clean pools", "mixedInCleanPools", "share"],
  ["clean tubes thrown away", "cleanThrownAway", "share"],
  ["pool pair F1", "poolPairF1", "share"],
  ["tube calibration error", "tubeCalibrationError", "share"],
  ["spot calibration error", "spotCalibrationError", "share", bars("<= .05", "<= .05", "<= .05", "<= .05")],
  ["tube Brier score", "tubeBrier", "share"],
  ["spot Brier score", "spotBrier", "share"],
];

/** Rows that mean nothing without a run file, because lanes are then not tied to tubes. */
const NEED_RUN_FILE: ReadonlySet<keyof LevelSummary> = new Set([
  "tubeStateRight",
  "mixedInCleanPools",
  "cleanThrownAway",
  "poolPairF1",
  "tubeCalibrationError",
  "tubeBrier",
]);

function cell(value: number, format: Row[2]): string {
  if (Number.isNaN(value)) return "-";
  return format === "whole" ? String(value) : value.toFixed(format === "small" ? 4 : 3);
}

/** The levels side by side as plain text; beside each figure what is aimed at. */
export function summaryTable(levels: ReadonlyMap<Level, LevelSummary>, withRunFile: boolean): string {
  const rows = ROWS.filter(([, key]) => withRunFile || !NEED_RUN_FILE.has(key));
  const head = ["", ...levels.keys()];
  const body = rows.map(([label, key, format, aims]) => [
    label,
    ...[...levels].map(([level, summary]) => {
      const aim = aims?.[level];
      return cell(summary[key], format) + (aim ? ` (${aim})` : "");
    }),
  ]);
  const widths = head.map((_, c) => Math.max(...[head, ...body].map((row) => row[c].length)));
  return [head, ...body]
    .map((row) =>
      row
        .map((text, c) => text.padEnd(widths[c] + 2))
        .join("")
        .trimEnd(),
    )
    .join("\n");
}
