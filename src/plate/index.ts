import type {
  Finding,
  Lane,
  LaneName,
  Light,
  LinePlaces,
  PhotoQuality,
  PlateReading,
  Quad,
  Spot,
  StageResult,
} from "../model/index.ts";
import type { Picture } from "../raster/picture.ts";
import { density } from "./density/index.ts";
import type { PlateFrame } from "./frame.ts";
import { type FoundLanes, findLanes } from "./lanes/index.ts";
import { findBroadMarks, findCrosses, findHeadMarks, findMarks } from "./marks/index.ts";
import { findMigration } from "./migration/index.ts";
import { plateAspect, rectifyLinear } from "./rectify/index.ts";
import { candidateSpots, findSpots } from "./spots/index.ts";
import type { CrossRows, MarkRow, SignalMap } from "./view.ts";

/** One photo of a plate with what is known of it before reading. */
export interface PlateView {
  readonly file: string;
  readonly picture: Picture;
  /** Corners in pixels of `picture`, front up. */
  readonly quad: Quad;
  /** Original pixels per picture pixel. */
  readonly scale: number;
  readonly light: Light;
  readonly stain: string | null;
  readonly quality: PhotoQuality;
}

export interface ReadPlateOptions {
  readonly id: string;
  /** Lanes as the run file names them, left to right; null: to be counted. */
  readonly laneNames: readonly LaneName[] | null;
  readonly origin: number | null;
  readonly front: number | null;
  /** Heights of origin and front that the other plates of the run speak for; left out: nothing is known of others. */
  readonly byOthers?: { readonly origin: number; readonly front: number };
  /** Where a person put the lanes: their x at the origin, left to right; left out: to be found. */
  readonly laneXs?: readonly number[];
}

/** One photo of a plate made ready: what it shows against its ground. */
export interface PreparedView {
  readonly map: SignalMap;
  readonly marks: readonly MarkRow[];
  readonly crosses: CrossRows;
}

/** The photos of a plate made ready, in the order of its views. Good for any number of readings. */
export interface PreparedPlate {
  /** Height over width of the plate. */
  readonly aspect: number;
  readonly views: readonly PreparedView[];
}

/** How large a plate is straightened, in pixels, and its height over width. */
export interface PlateSize {
  readonly aspect: number;
  readonly width: number;
  readonly height: number;
  /** How many lanes it has, or null where nobody said. */
  readonly lanes: number | null;
}

/** Pixels that a straightened plate is read at: enough for a pencil line, few enough to be quick; more for many lanes. */
const READ_AREA = { least: 235_000, most: 330_000, perLane: 29_000 };

/**
 * Enough pixels for a pencil line, more for many lanes, few enough to be quick.
 * @param lanes how many it has, or null where nobody said
 */
export function plateSize(views: readonly Pick<PlateView, "picture" | "quad">[], lanes: number | null): PlateSize {
  const aspects = views.map((v) => plateAspect(v.quad, v.picture.width, v.picture.height));
  const aspect = aspects.sort((a, b) => a - b)[aspects.length >> 1];
  const { least, most, perLane } = READ_AREA;
  const width = Math.round(Math.sqrt(Math.min(most, Math.max(least, perLane * (lanes ?? 0))) / aspect));
  return { aspect, width, height: Math.round(width * aspect), lanes };
}

/** Straightens a photo of a plate and takes its ground off: the slow part of a reading, the same for all options. */
export function prepareView(
  view: Pick<PlateView, "picture" | "quad" | "light">,
  { width, height, lanes }: PlateSize,
): PreparedView {
  const map = density({ light: view.light, ...rectifyLinear(view.picture, view.quad, width, height) }, lanes);
  return { map, marks: [...findMarks(map), ...findBroadMarks(map)], crosses: findCrosses(map) };
}

/** A plate read, and what else was there to be seen. */
export interface PlateStage extends StageResult<PlateReading> {
  /** Where its lines may be, as far as it shows itself. */
  readonly places: LinePlaces;
  /** Everything in each lane that could be a spot, likely or not; judged when asked for. */
  readonly candidates: () => readonly (readonly Spot[])[];
}

/** Reads one physical plate, all its photos together. */
export function readPlate(views: readonly PlateView[], options: ReadPlateOptions): PlateStage {
  const size = plateSize(views, options.laneNames?.length ?? null);
  return readPrepared(views, { aspect: size.aspect, views: views.map((v) => prepareView(v, size)) }, options);
}

/**
 * Reads a plate whose photos were made ready by `prepareView`, all at one size. A lane that a person put somewhere stays
 * there; its spots are looked for where they are.
 */
export function readPrepared(
  views: readonly PlateView[],
  { aspect, views: prepared }: PreparedPlate,
  options: ReadPlateOptions,
): PlateStage {
  const maps = prepared.map((v) => v.map);
  const marks = prepared.map((v) => v.marks);
  const findings: Finding[] = [];
  const { places, sure, ...migration } = findMigration(maps, marks, {
    ...options,
    crosses: prepared.map((v) => v.crosses),
  });
  const lanes = findLanes(maps, marks, {
    count: options.laneXs?.length ?? options.laneNames?.length ?? null,
    origin: migration.origin,
    front: migration.front,
    head: maps.flatMap((map) => findHeadMarks(map, migration.front.y)),
  });
  const start: PlateFrame = { ...migration, ...givenLanes(lanes, options.laneXs) };
  const mixtures = options.laneNames?.map(({ fraction }) => fraction === null) ?? [];
  const { frame, lanes: found } = findSpots(maps, start, marks, mixtures);
  const reading: PlateReading = {
    id: options.id,
    photos: views.map((v) => ({
      file: v.file,
      light: v.light,
      stain: v.stain,
      corners: v.quad.map(([x, y]) => [x * v.scale, y * v.scale] as const) as unknown as Quad,
      quality: v.quality,
    })),
    aspect,
    origin: migration.origin,
    front: migration.front,
    linesSure: sure,
    lanes: found.map((lane, i): Lane => {
      const name = options.laneNames?.[i];
      return {
        index: i + 1,
        label: name?.label ?? String(i + 1),
        fraction: name?.fraction ?? null,
        x: options.laneXs?.[i] ?? frame.tracks[i].x,
        drift: frame.tracks[i].drift,
        spots: lane.spots,
        detectionLimit: lane.detectionLimit,
      };
    }),
  };
  const candidates = () =>
    candidateSpots(maps, start, marks, mixtures).map((lane) => lane.map((judged) => judged.spot));
  return { value: reading, findings, places, candidates };
}

/** Lanes where a person put them, as wide and as leaning as the plate's own. */
function givenLanes({ tracks, pitch }: FoundLanes, xs: readonly number[] | undefined): FoundLanes {
  if (xs === undefined) return { tracks, pitch };
  const gaps = xs.slice(1).map((x, i) => x - xs[i]);
  const usual = gaps.sort((a, b) => a - b)[gaps.length >> 1] ?? pitch;
  return { tracks: xs.map((x) => ({ x, drift: tracks[0]?.drift ?? 0 })), pitch: usual };
}
