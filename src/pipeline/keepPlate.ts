import type { PlacedPlate } from "../decisions/index.ts";
import type { PlateMending, PlateReading } from "../model/index.ts";
import {
  type PlateView,
  type PreparedPlate,
  preparePlate,
  type ReadPlateOptions,
  readPrepared,
} from "../plate/index.ts";
import { judgeQuality } from "../plate/quality/index.ts";
import type { GroupPlate, StraightenedPicture } from "./group.ts";
import { mendSpots } from "./mendSpots.ts";
import { straightenedPictures } from "./pictures.ts";
import type { PlateJob } from "./requests.ts";

export interface ReadGroupOptions {
  /** True to get the photos and plates as small JPEGs too. */
  readonly pictures: boolean;
}

/** A plate with its decoded photos, to be read as often as it is mended. */
export interface KeptPlate {
  readonly key: PlacedPlate;
  /** Files of the photos that show it. */
  readonly photos: readonly string[];
  /** Reads it as a person mended it; only what the mending touches is done anew since the last time. */
  read(mending: PlateMending | null, options: ReadGroupOptions): Promise<GroupPlate>;
}

/** Remembers the last result of a step for as long as its key stays the same. */
function remembered<T>(): (key: string, make: () => T) => T {
  let last: { readonly key: string; readonly value: T } | null = null;
  return (key, make) => {
    if (last?.key === key) return last.value;
    // The old value goes first: two of them need not fit into memory.
    last = null;
    const value = make();
    last = { key, value };
    return value;
  };
}

/** Makes everything anew: for one reading, nothing need be held. */
function forgotten<T>(): (key: string, make: () => T) => T {
  return (_, make) => make();
}

/**
 * Keeps a plate and its decoded photos.
 * @param remember true where it will be read again: then what is slow and stays the same is held (some 10 MB a photo)
 */
export function keepPlate(job: PlateJob, remember: boolean): KeptPlate {
  const memory = remember ? remembered : forgotten;
  const photos = job.views.map((v) => v.photo.file);
  const prepared = memory<{ views: PlateView[]; plate: PreparedPlate }>();
  const readings = memory<PlateReading>();
  const pictures = memory<Promise<StraightenedPicture[]>>();
  return {
    key: { photos, place: job.views[0].place },
    photos,
    read: async (mending, options) => {
      const cornersKey = JSON.stringify(mending?.corners ?? []);
      const { views, plate } = prepared(cornersKey, () => {
        const views = viewsOf(job, mending);
        return { views, plate: preparePlate(views, job.laneNames?.length ?? null) };
      });
      const reads = readOptions(job, mending);
      const read = readings(JSON.stringify([cornersKey, reads]), () => readPrepared(views, plate, reads).value);
      const { reading, unmet } = mendSpots(read, mending?.spots ?? []);
      const straightened = options.pictures
        ? await pictures(cornersKey, () =>
            straightenedPictures(
              reading,
              job.views.map((v) => v.photo),
            ),
          )
        : [];
      const { listed, lanesLine } = job;
      const { laneNames } = reads;
      return { listed, laneNames, lanesLine, reading, findings: [], straightened, mending, unmet };
    },
  };
}

/** The photos that show the plate, with its corners where they were seen or put. */
function viewsOf(job: PlateJob, mending: PlateMending | null): PlateView[] {
  return job.views.map(({ photo: { plates, ...photo }, place }) => {
    const given = mending?.corners.find((c) => c.photo === photo.file);
    if (given === undefined) return { ...photo, ...plates[place] };
    const [a, b, c, d] = given.corners.map(([x, y]) => [x / photo.scale, y / photo.scale] as const);
    const quad = [a, b, c, d] as const;
    return { ...photo, quad, quality: judgeQuality(photo.picture, quad, photo.scale) };
  });
}

function readOptions(job: PlateJob, mending: PlateMending | null): ReadPlateOptions {
  const lanes = mending?.lanes ?? null;
  const seen = (mending?.spots ?? []).flatMap((s) =>
    s.what === "spot-add" ? [s.spot] : s.what === "spot-move" ? [s.to] : [],
  );
  return {
    id: job.listed === null ? "" : `P${job.listed + 1}`,
    laneNames: lanes?.map(({ label, fraction }) => ({ label, fraction })) ?? job.laneNames,
    origin: mending?.origin ?? job.origin,
    front: mending?.front ?? job.front,
    ...(lanes && { laneXs: lanes.map((l) => l.x) }),
    ...(seen.length > 0 && { seenSpots: seen.map(({ lane, y }) => ({ x: lane, y })) }),
  };
}
