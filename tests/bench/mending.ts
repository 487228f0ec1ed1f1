/**
 * How quickly one plate follows what a person mends, from its photo kept decoded to the result decided anew
 * (npm run bench:mending): CPU time of each mending, and its ratio to reading the same photos from the beginning in the
 * same process. `wanted` is 300 ms.
 */
import { readFileSync } from "node:fs";
import { parseArgs } from "node:util";
import {
  type Decisions,
  NO_DECISIONS,
  type PlateMending,
  type Quad,
  type ReadSettings,
} from "../../src/model/index.ts";
import { decideRun, openGroup, readGroup, readRun, runGroups } from "../../src/pipeline/index.ts";
import { openRunFolder } from "../../src/store/index.ts";
import { median } from "./metrics/score.ts";

const { values } = parseArgs({
  options: {
    folder: { type: "string", default: "fixtures/runs/normal-30" },
    repeats: { type: "string", default: "7" },
  },
});
const WANTED_MS = 300;
const settings: ReadSettings = { policy: "balance", want: null };

/** CPU milliseconds of some work: other load on the machine does not count. */
async function cpuMs(work: () => Promise<unknown>): Promise<number> {
  const before = process.cpuUsage();
  await work();
  const { user, system } = process.cpuUsage(before);
  return (user + system) / 1000;
}

const { photos, run, findings } = await openRunFolder(values.folder);
const bytes = new Map(photos.map((p) => [p.file, readFileSync(p.path)]));
const load = async (file: string) => bytes.get(file)!;
const input = { files: photos.map((p) => p.file), run, findings };
const pictures = { pictures: true };
const [group, ...others] = runGroups(input, settings);
const open = await openGroup(group, load);
const rest = await Promise.all(others.map((g) => readGroup(g, load, pictures)));
const { result } = decideRun(input, settings, [await open.read({}, pictures), ...rest]);
const [plate] = result.plates;
const unmended = { corners: [], origin: null, front: null, lanes: null, laneNames: [], spots: [] };
const key = { photos: plate.photos, place: 0 };
const lane = plate.lanes.find((l) => l.spots.length > 0)!;
const [spot] = lane.spots;

/** What is mended, a little differently each time, so that nothing is remembered. */
const MENDINGS: Readonly<Record<string, (n: number) => Partial<PlateMending>>> = {
  "spot struck": (n) => ({
    spots: [{ what: "spot-strike", spot: { lane: lane.x, rf: spot.rf, y: spot.y + n * 1e-5 } }],
  }),
  "spot added": (n) => ({ spots: [{ what: "spot-add", spot: { lane: lane.x, rf: 0.8, y: 0.3 + n * 1e-3 } }] }),
  "lane named": (n) => ({ laneNames: [{ x: lane.x, label: `crude ${n}`, fraction: null }] }),
  "lane moved": (n) => ({ lanes: plate.lanes.map(({ x, label, fraction }) => ({ x: x + n * 1e-4, label, fraction })) }),
  "origin moved": (n) => ({ origin: plate.origin.y + n * 1e-4 }),
  "front moved": (n) => ({ front: plate.front.y + n * 1e-4 }),
  "corner moved": (n) => ({
    corners: [{ photo: plate.photos[0], corners: plate.corners!.map(([x, y]) => [x + n / 10, y]) as unknown as Quad }],
  }),
};

const repeats = Array.from({ length: Number(values.repeats) }, (_, i) => i + 1);
const whole: number[] = [];
for (const _ of repeats)
  whole.push(await cpuMs(() => readRun(input, settings, async ([g]) => [await readGroup(g, load, pictures), ...rest])));
console.log(
  `whole reading of the plate's photos: ${median(whole).toFixed(0)} ms CPU; ${result.fractions.length} tubes`,
);
for (const [what, change] of Object.entries(MENDINGS)) {
  const plates: number[] = [];
  const decided: number[] = [];
  for (const n of repeats) {
    const mendings: PlateMending[] = [{ plate: key, ...unmended, ...change(n) }];
    const decisions: Decisions = { ...NO_DECISIONS, last: 1, plates: mendings };
    let read = rest[0];
    plates.push(
      await cpuMs(async () => {
        read = await open.read({ mendings }, pictures);
      }),
    );
    decided.push(await cpuMs(async () => decideRun({ ...input, decisions }, settings, [read, ...rest])));
  }
  const [p, d] = [median(plates), median(decided)];
  const met = p + d <= WANTED_MS ? "met   " : "MISSED";
  console.log(
    `${what.padEnd(14)} ${(p + d).toFixed(0).padStart(5)} ms CPU  ${met}  ratio ${((p + d) / median(whole)).toFixed(2)}  (plate ${p.toFixed(0)}, decision ${d.toFixed(0)})`,
  );
}
