import type { Result } from "../../model/index.ts";
import { asDecided, type RunReading } from "../../pipeline/index.ts";
import { annotationSvg, poolsCsv, type ReportPictures, reportHtml } from "../../report/index.ts";
import { annotatedNames, isDemoFolder, openResults, type ResultsWriter } from "../../store/index.ts";
import type { Progress } from "../terminal/progress.ts";
import { version } from "../version.ts";
import type { WorkerPool } from "../workers/pool.ts";

/** The result as it is printed and stored. */
export function resultJson({ result }: Pick<RunReading, "result">): string {
  return `${JSON.stringify(result, null, 2)}\n`;
}

/**
 * Writes everything that `platepool read` leaves in `FOLDER/results`; the result itself last, so that it never speaks of
 * files that are not there.
 */
export async function writeResults(
  folder: string,
  reading: RunReading,
  pool: Pick<WorkerPool, "run">,
  progress: Progress,
): Promise<void> {
  const results = await openResults(folder);
  const files = reading.result.photos.map((p) => p.file);
  const names = annotatedNames(files);
  let drawn = 0;
  const drawing = Promise.all(
    reading.photos.map(async ({ file, width, height, bytes }) => {
      const svg = annotationSvg(reading.result, file, { width, height });
      await results.write(names.get(file)!, await pool.run({ kind: "annotate", photo: bytes, svg }));
      progress.step(++drawn, reading.photos.length, "photos drawn");
    }),
  );
  // The report is put together while the photos are drawn.
  await Promise.all([drawing, writeReport(folder, results, reading.result, picturesOf(reading))]);
  await results.forgetOthers(files);
  await results.write("result.json", resultJson(reading));
}

/** Writes what shows the pools, after a division alone: the pictures of the photos stay as they are. */
export async function writeDivision(folder: string, reading: RunReading): Promise<void> {
  const results = await openResults(folder);
  await writeReport(folder, results, reading.result, picturesOf(reading));
  await results.write("result.json", resultJson(reading));
}

/** Writes what shows the pools that count: the report, where its pictures are at hand, and the table. */
export async function writeReport(
  folder: string,
  results: Pick<ResultsWriter, "write">,
  read: Result,
  pictures: ReportPictures | null,
): Promise<void> {
  const result = asDecided(read);
  const divided = result === read ? {} : { suggested: read };
  const { policy = null, want = null } = read.settings ?? {};
  const notes = { readOn: null, version: version(), demo: await isDemoFolder(folder), policy, want };
  if (pictures) await results.write("report.html", reportHtml({ result, ...divided, ...pictures, notes }));
  await results.write("pools.csv", poolsCsv(result, divided.suggested));
}

function picturesOf({ straightened, photos }: Pick<RunReading, "straightened" | "photos">): ReportPictures {
  const jpegBase64 = (bytes: Uint8Array) =>
    Buffer.from(bytes.buffer, bytes.byteOffset, bytes.length).toString("base64");
  return {
    straightened: straightened.map(({ plate, file, light, stain, width, height, bytes }) => ({
      plate,
      photo: file,
      light,
      stain,
      width,
      height,
      jpegBase64: jpegBase64(bytes),
    })),
    photos: photos.map(({ file, width, height, bytes }) => ({ file, width, height, jpegBase64: jpegBase64(bytes) })),
  };
}
