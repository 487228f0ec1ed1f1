import type {
  Finding,
  Lane,
  LaneName,
  Light,
  PhotoQuality,
  PlateReading,
  Quad,
  Spot,
  StageResult,
} from "../model/index.ts";
import type { Picture } from "../raster/picture.ts";
import { density } from "./density/index.ts";
import { laneX, type PlateFrame } from "./frame.ts";
import { type FoundLanes, findLanes } from "./lanes/index.ts";
import { findMarks } from "./marks/index.ts";
import { findMigration } from "./migration/index.ts";
import { plateAspect, rectifyLinear } from "./rectify/index.ts";
import { candidateSpots, findSpots, type JudgedSpot } from "./spots/index.ts";
import type { MarkRow, SignalMap } from "./view.ts";

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

/** A spot that a person saw, in plate fractions. */
export interface SeenSpot {
  readonly x: number;
  readonly y: number;
}

export interface ReadPlateOptions {
  readonly id: string;
  /** Lanes as the run file names them, left to right; null: to be counted. */
  readonly laneNames: readonly LaneName[] | null;
  readonly origin: number | null;
  readonly front: number | null;
  /** Where a person put the lanes: their x at the origin, left to right; left out: to be found. */
  readonly laneXs?: readonly number[];
  /** Where a person saw spots: what the photos show there counts as one, however faint. */
  readonly seenSpots?: readonly SeenSpot[];
}

/** The photos of a plate made ready: what they show against their ground. Good for any number of readings. */
export interface PreparedPlate {
  readonly aspect: number;
  readonly maps: readonly SignalMap[];
  readonly marks: readonly (readonly MarkRow[])[];
}

/** Pixels that a straightened plate is read at: enough for a pencil line, few enough to be quick; more for many lanes. */
const READ_AREA = { least: 235_000, most: 330_000, perLane: 29_000 };

/**
 * Straightens the photos of a plate and takes their ground off: the slow part of a reading, the same for all options.
 * @param lanes how many it has, or null where nobody said
 */
export function preparePlate(views: readonly PlateView[], lanes: number | null): PreparedPlate {
  const aspects = views.map((v) => plateAspect(v.quad, v.picture.width, v.picture.height));
  const aspect = aspects.sort((a, b) => a - b)[aspects.length >> 1];
  const { least, most, perLane } = READ_AREA;
  const width = Math.round(Math.sqrt(Math.min(most, Math.max(least, perLane * (lanes ?? 0))) / aspect));
  const height = Math.round(width * aspect);
  const maps = views.map((v) => density({ light: v.light, ...rectifyLinear(v.picture, v.quad, width, height) }));
  return { aspect, maps, marks: maps.map(findMarks) };
}

/** Reads one physical plate, all its photos together. */
export function readPlate(views: readonly PlateView[], options: ReadPlateOptions): StageResult<PlateReading> {
  return readPrepared(views, preparePlate(views, options.laneNames?.length ?? null), options);
}

/**
 * Reads a plate whose photos were made ready by `preparePlate`. A lane that a person put somewhere stays there; its spots
 * are looked for where they are.
 */
export function readPrepared(
  views: readonly PlateView[],
  { aspect, maps, marks }: PreparedPlate,
  options: ReadPlateOptions,
): StageResult<PlateReading> {
  const findings: Finding[] = [];
  const migration = findMigration(maps, marks, options);
  const lanes = findLanes(maps, marks, {
    count: options.laneXs?.length ?? options.laneNames?.length ?? null,
    origin: migration.origin,
    front: migration.front,
  });
  const start: PlateFrame = { ...migration, ...givenLanes(lanes, options.laneXs) };
  const { frame, lanes: found } = findSpots(maps, start);
  const seen = options.seenSpots?.length ? seenBy(options.seenSpots, frame, candidateSpots(maps, start)) : [];
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
    lanes: found.map((lane, i): Lane => {
      const name = options.laneNames?.[i];
      return {
        index: i + 1,
        label: name?.label ?? String(i + 1),
        fraction: name?.fraction ?? null,
        x: options.laneXs?.[i] ?? frame.tracks[i].x,
        drift: frame.tracks[i].drift,
        spots: seen[i] ? withSeen(lane.spots, seen[i]) : lane.spots,
        detectionLimit: lane.detectionLimit,
      };
    }),
  };
  return { value: reading, findings };
}

/** Lanes where a person put them, as wide and as leaning as the plate's own. */
function givenLanes({ tracks, pitch }: FoundLanes, xs: readonly number[] | undefined): FoundLanes {
  if (xs === undefined) return { tracks, pitch };
  const gaps = xs.slice(1).map((x, i) => x - xs[i]);
  const usual = gaps.sort((a, b) => a - b)[gaps.length >> 1] ?? pitch;
  return { tracks: xs.map((x) => ({ x, drift: tracks[0]?.drift ?? 0 })), pitch: usual };
}

/** How far a hand may be off a spot's centre: along the plate, and across in lane distances. */
const HAND_Y = 0.025;
const HAND_LANES = 0.5;

/** For each lane the candidates, likely or not, that lie where a person saw a spot: the nearest for each. */
function seenBy(
  places: readonly SeenSpot[],
  frame: PlateFrame,
  candidates: readonly (readonly JudgedSpot[])[],
): readonly (readonly Spot[])[] {
  return candidates.map((lane, i) =>
    places
      .filter((p) => Math.abs(p.x - laneX(frame, frame.tracks[i], p.y)) < HAND_LANES * frame.pitch)
      .flatMap((p) => {
        const near = lane.map((j) => j.spot).filter((s) => Math.abs(s.y - p.y) < HAND_Y);
        return near.sort((a, b) => Math.abs(a.y - p.y) - Math.abs(b.y - p.y)).slice(0, 1);
      }),
  );
}

/** The spots found and those a person saw; what a person saw is there. */
function withSeen(spots: readonly Spot[], seen: readonly Spot[]): Spot[] {
  const own = new Set(seen.map((s) => s.rf));
  const sure = [...new Map(seen.map((s) => [s.rf, { ...s, confidence: 1 }])).values()];
  return [...spots.filter((s) => !own.has(s.rf)), ...sure].sort((a, b) => a.rf - b.rf);
}
