import { upperMedian } from "../../math/median.ts";
import type { MigrationLine } from "../../model/index.ts";
import { figureCentres } from "../figures.ts";
import type { MarkRow, SignalMap } from "../view.ts";
import { type Blob, blobsIn, spotRises } from "./blobs.ts";
import { isBrokenLine } from "./dashes.ts";
import { headNumbers } from "./head.ts";
import { type LaneSign, pool } from "./pool.ts";
import { spotOdds } from "./spotOdds.ts";

/** All that speaks for lanes. */
export interface LaneSigns {
  /** What stands on the origin line: ticks, crosses, dots, residues. */
  readonly line: readonly LaneSign[];
  /** What stands below it: figures, letters. */
  readonly foot: readonly LaneSign[];
  /** What stands above the front: some number their lanes there. */
  readonly head: readonly LaneSign[];
  /** Columns of spots, if lanes lean by so much (sideways way over way up). */
  readonly spots: (lean: number) => readonly LaneSign[];
  /** How wide the likely spots are at half their height (median), in pixels; 0 where there is none. */
  readonly spotWidth: number;
}

/** Rows between these heights below the origin, as shares of the plate's height, are the origin's; lower ones the foot's. */
const ORIGIN = { above: -0.02, below: 0.02 };
/** Heights within which a blob lies on the origin line, and above which the foot ends at the plate's edge. */
const ON_LINE = 0.012;
const FOOT_END = 0.985;
/** Spots lie between these Rf. */
const WAY = { from: 0.03, to: 0.96 };
/** Share of the width at each side where marks are the plate's edge. */
const EDGE = 0.03;
/** Kernels that join signs to one place, as shares of the plate's width. */
const SAME = { spot: 0.009, line: 0.007, foot: 0.01 };
/**
 * How often such marks stood on a lane, beyond what chance brings there, on plates of two renderers. Rows of marks that
 * were looked for on a coarser picture are surer: dust does not show there.
 */
const SURE = {
  line: { broad: 0.9, sharp: 0.8 },
  foot: { broad: 0.8, many: 0.65, few: 0.5 },
  tick: { many: 0.3, few: 0.6 },
};
/** Blobs this likely to be spots tell how wide spots are. */
const LIKELY = 0.8;
const MANY = { figures: 5, ticks: 13 };
const BLOB = { line: [0.75, 0.88, 0.94], foot: [0.3, 0.5, 0.6] } as const;

/** Where signs are looked for. */
interface SignPlaces {
  readonly origin: MigrationLine;
  readonly front: MigrationLine;
  /** Rows of marks above the front, of all photos. */
  readonly head?: readonly MarkRow[];
}

/**
 * @param marks rows of pencil marks of all photos
 * @param ticks centres of strokes that cross the origin, in pixels
 */
export function laneSigns(
  maps: readonly SignalMap[],
  marks: readonly MarkRow[],
  ticks: readonly number[],
  { origin, front, head = [] }: SignPlaces,
): LaneSigns {
  const { width, height } = maps[0];
  const rises = spotRises(maps);
  const way = origin.y - front.y;
  const rowAt = (rf: number) => Math.round((origin.y - rf * way) * height);
  const below = (y: number) => Math.round((origin.y + y) * height);
  const spots = blobsIn(rises, rowAt(WAY.to), rowAt(WAY.from));
  const odds = spotOdds(spots, width, (y) => (origin.y - y / height) / way);
  const inside = ({ x }: LaneSign) => Math.min(x, width - x) >= EDGE * width;
  const broken = marks.some((row) => Math.abs(row.y - origin.y * height) < ORIGIN.below * height && isBrokenLine(row));
  const onLine = [
    ...figures(marks, origin.y * height, width, height, "line"),
    ...ticks.map((x) => ({ x, weight: ticks.length < MANY.ticks ? SURE.tick.few : SURE.tick.many })),
    ...blobsIn(rises, below(-ON_LINE), below(ON_LINE)).map((b) => blobSign(b, BLOB.line)),
  ];
  const line = broken ? [] : onLine;
  const foot = [
    ...figures(marks, origin.y * height, width, height, "foot"),
    ...blobsIn(rises, below(ON_LINE), Math.round(FOOT_END * height)).map((b) => blobSign(b, BLOB.foot)),
  ];
  return {
    line: pool(line.filter(inside), width, SAME.line * width),
    foot: pool(foot.filter(inside), width, SAME.foot * width),
    head: pool(headNumbers(head, width).filter(inside), width, SAME.foot * width),
    spots: (lean) =>
      pool(
        spots.map(({ x, y }, i) => ({ x: x - lean * (origin.y * height - y), weight: odds[i] })),
        width,
        SAME.spot * width,
      ),
    spotWidth: upperMedian(spots.filter((_, i) => odds[i] > LIKELY).map((b) => b.width)) || 0,
  };
}

function figures(
  marks: readonly MarkRow[],
  origin: number,
  width: number,
  height: number,
  place: "line" | "foot",
): LaneSign[] {
  return marks.flatMap((row) => {
    const y = (row.y - origin) / height;
    if (y <= ORIGIN.above || y > ORIGIN.below !== (place === "foot")) return [];
    const centres = figureCentres(row, width);
    const sharp = place === "line" ? SURE.line.sharp : centres.length < MANY.figures ? SURE.foot.few : SURE.foot.many;
    return centres.map((x) => ({ x, weight: row.broad ? SURE[place].broad : sharp }));
  });
}

function blobSign({ x, z }: Blob, [faint, clear, strong]: readonly [number, number, number]): LaneSign {
  return { x, weight: z < 6 ? faint : z < 10 ? clear : strong };
}
