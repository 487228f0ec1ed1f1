import type { RunReading } from "../../pipeline/index.ts";
import { annotationSvg, poolsCsv, type ReportNotes, reportHtml } from "../../report/index.ts";
import { annotatedNames, openResults } from "../../store/index.ts";
import type { Progress } from "../terminal/progress.ts";
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
  notes: ReportNotes,
  pool: WorkerPool,
  progress: Progress,
): Promise<void> {
  const results = await openResults(folder);
  const files = reading.result.photos.map((p) => p.file);
  const names = annotatedNames(files);
  let drawn = 0;
  await Promise.all(
    reading.photos.map(async ({ file, width, bytes }) => {
      const scale = reading.result.photos.find((p) => p.file === file)!.width / width;
      const svg = annotationSvg(reading.result, file, scale);
      await results.write(names.get(file)!, await pool.run({ kind: "annotate", photo: bytes, svg }));
      progress.step(++drawn, reading.photos.length, "photos drawn");
    }),
  );
  await results.write("report.html", reportHtml(reportInput(reading, notes)));
  await results.write("pools.csv", poolsCsv(reading.result));
  await results.forgetOthers(files);
  await results.write("result.json", resultJson(reading));
}

function reportInput({ result, straightened, photos }: RunReading, notes: ReportNotes) {
  const jpegBase64 = (bytes: Uint8Array) =>
    Buffer.from(bytes.buffer, bytes.byteOffset, bytes.length).toString("base64");
  return {
    result,
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
    notes,
  };
}
