import type { Finding, Lane, LaneName, Light, PhotoQuality, PlateReading, Quad, StageResult } from "../model/index.ts";
import type { Picture } from "../raster/picture.ts";
import { density } from "./density/index.ts";
import type { PlateFrame } from "./frame.ts";
import { findLanes } from "./lanes/index.ts";
import { findMarks } from "./marks/index.ts";
import { findMigration } from "./migration/index.ts";
import { plateAspect, rectifyLinear } from "./rectify/index.ts";
import { findSpots } from "./spots/index.ts";

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
}

/** Pixels that a straightened plate is read at: enough for a pencil line, few enough to be quick. */
const READ_AREA = 330_000;

/** Reads one physical plate, all its photos together. */
export function readPlate(views: readonly PlateView[], options: ReadPlateOptions): StageResult<PlateReading> {
  const findings: Finding[] = [];
  const aspects = views.map((v) => plateAspect(v.quad, v.picture.width, v.picture.height));
  const aspect = aspects.sort((a, b) => a - b)[aspects.length >> 1];
  const width = Math.round(Math.sqrt(READ_AREA / aspect));
  const height = Math.round(width * aspect);
  const maps = views.map((v) => density({ light: v.light, ...rectifyLinear(v.picture, v.quad, width, height) }));
  const marks = maps.map(findMarks);
  const migration = findMigration(maps, marks, options);
  const lanes = findLanes(maps, marks, {
    count: options.laneNames?.length ?? null,
    origin: migration.origin,
    front: migration.front,
  });
  const start: PlateFrame = { ...migration, pitch: lanes.pitch, tracks: lanes.tracks };
  const { frame, lanes: found } = findSpots(maps, start);
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
        x: frame.tracks[i].x,
        drift: frame.tracks[i].drift,
        spots: lane.spots,
        detectionLimit: lane.detectionLimit,
      };
    }),
  };
  return { value: reading, findings };
}
