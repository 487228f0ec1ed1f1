import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import sharp from "sharp";
import { annotationSvg, poolsCsv, reportHtml } from "../../../src/report/index.ts";
import { sampleInput, samplePhoto } from "./samplePictures.ts";
import { sampleResult } from "./sampleResult.ts";

/** Writes the sample reports to a folder, to be looked at: `npx tsx tests/report/support/show.ts FOLDER`. */
const folder = process.argv[2] ?? "/tmp/platepool-report";
mkdirSync(folder, { recursive: true });
const cases = { report: {}, sixty: { tubes: 60, lanesPerPlate: 11 }, sparse: { tubes: 60, every: 3 } };
for (const [name, options] of Object.entries(cases)) {
  const input = await sampleInput(sampleResult(options));
  const html = reportHtml(input);
  writeFileSync(join(folder, `${name}.html`), html);
  writeFileSync(join(folder, `${name}.csv`), poolsCsv(input.result));
  console.log(name, `${(html.length / 1024).toFixed(0)} kB`);
  if (name !== "report") continue;
  for (const photo of input.result.photos.filter((p) => p.status === "read").slice(0, 2)) {
    const size = { width: 1400, height: Math.round((1400 * photo.height) / photo.width) };
    const overlay = Buffer.from(annotationSvg(input.result, photo.file, size));
    const under = Buffer.from(samplePhoto(input.result, photo.file, 1400));
    await sharp(under)
      .composite([{ input: overlay }])
      .png()
      .toFile(join(folder, `${photo.file}.png`));
  }
}
