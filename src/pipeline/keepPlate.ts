import type { PlacedPlate } from "../decisions/index.ts";
import type { PlateMending, Spot } from "../model/index.ts";
import {
  type PlateSize,
  type PlateStage,
  type PlateView,
  type PreparedView,
  plateSize,
  prepareView,
  type ReadPlateOptions,
  readPrepared,
} from "../plate/index.ts";
import { judgeQuality } from "../plate/quality/index.ts";
import { aligned, type Look, lookAtOutline, lookSize } from "../plate/register/index.ts";
import type { GroupPlate, LinesByOthers, StraightenedPicture } from "./group.ts";
import { mendSpots } from "./mendSpots.ts";
import { shownSize, straightenedPicture } from "./pictures.ts";
import type { PlateJob } from "./requests.ts";

export interface ReadGroupOptions {
  /** True to get the photos and plates as small JPEGs too. */
  readonly pictures: boolean;
}

/** What is said of a plate from elsewhere; null: nothing. */
export interface PlateTold {
  readonly mending: PlateMending | null;
  readonly byOthers: LinesByOthers | null;
}

/** A plate with its decoded photos, to be read as often as it is mended. */
export interface KeptPlate {
  readonly key: PlacedPlate;
  /** Files of the photos that show it. */
  readonly photos: readonly string[];
  /**
   * Reads it as a person mended it, and with its lines where the other plates of the run speak for; only what that touches is done
   * anew since the last time.
   */
  read(told: PlateTold, options: ReadGroupOptions): Promise<GroupPlate>;
}

/** All looks are of one size, so that any two can be compared. */
const ALIKE = { width: 150, height: 200 };

type Memory<T> = (key: unknown, make: () => T) => T;

/** Remembers the last result of a step for as long as its key (plain data) stays the same. */
function remembered<T>(): Memory<T> {
  let last: { readonly key: string; readonly value: T } | null = null;
  return (key, make) => {
    const text = JSON.stringify(key);
    if (last?.key === text) return last.value;
    // The old value goes first: two of them need not fit into memory.
    last = null;
    const value = make();
    last = { key: text, value };
    return value;
  };
}

/** Makes everything anew: for one reading, nothing need be held. */
function forgotten<T>(): Memory<T> {
  return (_, make) => make();
}

/**
 * Keeps a plate and its decoded photos.
 * @param remember true where it will be read again: then what is slow and stays the same is held (some 10 MB a photo)
 */
export function keepPlate(job: PlateJob, remember: boolean): KeptPlate {
  const memory: <T>() => Memory<T> = remember ? remembered : forgotten;
  const photos = job.views.map((v) => v.photo.file);
  const views = job.views.map(() => memory<PlateView>());
  const met = job.views.map(() => memory<PlateView>());
  const prepared = job.views.map(() => memory<PreparedView>());
  const readings = memory<PlateStage>();
  const candidates = memory<readonly (readonly Spot[])[]>();
  const looks = memory<Look>();
  const pictures = job.views.map(() => memory<Promise<StraightenedPicture>>());
  const key = { photos, place: job.views[0].place };
  return {
    key,
    photos,
    read: async ({ mending, byOthers }, options) => {
      const corners = job.views.map((v) => mending?.corners.find((c) => c.photo === v.photo.file)?.corners ?? null);
      const placed = job.views.map((_, i) => views[i](corners[i], () => viewOf(job, i, mending)));
      const shown = placed.map((view, i) =>
        i === 0 || corners[i] ? view : met[i](corners[0], () => meeting(placed[0], view)),
      );
      const size = sizeOf(job, shown, mending);
      const { width, height } = size;
      const reads = readOptions(job, mending, byOthers);
      const read = readings([corners, reads], () => {
        const ready = shown.map((v, i) =>
          prepared[i]([corners[0], corners[i], width, height], () => prepareView(v, size)),
        );
        return readPrepared(shown, { aspect: size.aspect, views: ready }, reads);
      });
      const seen = () => candidates([corners, reads], () => read.candidates());
      const { reading, unmet } = mendSpots(read.value, mending?.spots ?? [], seen);
      const straightened: StraightenedPicture[] = [];
      const shownAt = shownSize(reading.aspect);
      for (const [i, { photo }] of options.pictures ? job.views.entries() : [])
        straightened.push(
          await pictures[i]([corners[0], corners[i], shownAt], () =>
            straightenedPicture(photo, shown[i].quad, shownAt),
          ),
        );
      const { listed, lanesLine, eluents } = job;
      const { laneNames } = reads;
      const { places } = read;
      const look = job.looks && {
        look: looks(corners, () => lookAtOutline(job.views[0].photo.picture, shown[0].quad, ALIKE)),
      };
      return {
        ...{ listed, laneNames, lanesLine, eluents, reading, key, places, findings: [] },
        ...look,
        ...{ straightened, mending, unmet },
      };
    },
  };
}

/** Reads a plate with its corners put where they were seen; nothing is kept of it. */
export async function rehearsePlate(job: PlateJob): Promise<void> {
  const kept = keepPlate(job, false);
  const corners = job.views.map(({ photo: { file, scale, plates }, place }) => {
    const [a, b, c, d] = plates[place].quad.map(([x, y]) => [x * scale, y * scale] as const);
    return { photo: file, corners: [a, b, c, d] as const };
  });
  const mending = { plate: kept.key, corners, origin: null, front: null, lanes: null, laneNames: [], spots: [] };
  await kept.read({ mending, byOthers: null }, { pictures: true });
}

/** A further photo of a plate, its outline moved so that what stands out on the plate lies where it does in the first. */
function meeting(first: PlateView, view: PlateView): PlateView {
  const size = lookSize(first.quad);
  const [other, own] = [first, view].map(({ picture, quad }) => lookAtOutline(picture, quad, size));
  return { ...view, quad: aligned(other, own, view.quad) };
}

/** A photo that shows the plate, with its corners where they were seen or put. */
function viewOf(job: PlateJob, i: number, mending: PlateMending | null): PlateView {
  const {
    photo: { plates, ...photo },
    place,
  } = job.views[i];
  const given = mending?.corners.find((c) => c.photo === photo.file);
  if (given === undefined) return { ...photo, ...plates[place] };
  const [a, b, c, d] = given.corners.map(([x, y]) => [x / photo.scale, y / photo.scale] as const);
  const quad = [a, b, c, d] as const;
  return { ...photo, quad, quality: judgeQuality(photo.picture, quad, photo.scale) };
}

/** Corners put by hand may change the plate's shape by so much before it is straightened at another size. */
const SAME_SHAPE = 0.03;

/**
 * The size as the corners lie; but where they were mended a little, the pixels of the size that was found, so that the
 * photos whose corners were not touched need not be made ready anew. Depends on corners alone, not on what was read before.
 */
function sizeOf(job: PlateJob, shown: readonly PlateView[], mending: PlateMending | null): PlateSize {
  const lanes = job.laneNames?.length ?? null;
  const size = plateSize(shown, lanes);
  if (mending === null || mending.corners.length === 0) return size;
  const found = plateSize(
    job.views.map((_, i) => viewOf(job, i, null)),
    lanes,
  );
  return Math.abs(size.aspect / found.aspect - 1) < SAME_SHAPE ? { ...found, aspect: size.aspect } : size;
}

function readOptions(job: PlateJob, mending: PlateMending | null, byOthers: LinesByOthers | null): ReadPlateOptions {
  const lanes = mending?.lanes ?? null;
  return {
    id: job.listed === null ? "" : `P${job.listed + 1}`,
    laneNames: lanes?.map(({ label, fraction }) => ({ label, fraction })) ?? job.laneNames,
    origin: mending?.origin ?? job.origin,
    front: mending?.front ?? job.front,
    ...(byOthers && { byOthers: { origin: byOthers.origin, front: byOthers.front } }),
    ...(lanes && { laneXs: lanes.map((l) => l.x) }),
  };
}
