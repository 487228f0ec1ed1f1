// Decides and leaves results without end; prints each act once it is reported kept. To be killed.
// node busyWriter.mjs BUILT FOLDER SEED
import { pathToFileURL } from "node:url";

const [, , built, folder, seed] = process.argv;
const { keepAct } = await import(pathToFileURL(`${built}/store/journal.js`).href);
const { openResults } = await import(pathToFileURL(`${built}/store/results.js`).href);
const plate = { photos: ["p1.jpg"], place: 0 };

for (let n = 0; ; n++) {
  const mark = Number(seed) + n / 1e6;
  const { line } = await keepAct(folder, new Date().toISOString(), () => ({
    act: { kind: "mend", mending: { what: "origin", plate, y: mark } },
    on: null,
  }));
  process.stdout.write(`${line.id} ${mark}\n`);
  const results = await openResults(folder);
  await results.write("result.json", JSON.stringify({ mark, filling: "x".repeat(200_000), end: mark }));
}
