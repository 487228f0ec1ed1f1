import { PlatepoolError } from "../model/index.ts";
import { readPlate } from "../plate/index.ts";
import type { GroupPlate, GroupReading, PhotoGroup, PhotoReading } from "./group.ts";
import { lookAt, type RejectedPhoto, type SeenPhoto } from "./lookAt.ts";
import { shrunkPhoto, straightenedPictures } from "./pictures.ts";
import { type PlateJob, plateJobs } from "./requests.ts";
import { standUpright } from "./standUpright.ts";

export interface ReadGroupOptions {
  /** True to get the photos and plates as small JPEGs too. */
  readonly pictures: boolean;
}

const INNER_ERROR = "The program failed on this photo. Please report it; PLATEPOOL_DEBUG=1 shows more.";

/**
 * Reads the photos of one group: bytes in, plates with spots out. What cannot be read is rejected with its reason; the
 * rest goes on. The decoded pictures are dropped when it returns.
 * @param load gets a photo's bytes by its file name; may throw `PlatepoolError`
 */
export async function readGroup(
  group: PhotoGroup,
  load: (file: string) => Promise<Uint8Array>,
  options: ReadGroupOptions,
): Promise<GroupReading> {
  const crashes: string[] = [];
  const guarded = async <T>(work: () => Promise<T> | T, otherwise: (reason: string) => T): Promise<T> => {
    try {
      return await work();
    } catch (error) {
      if (error instanceof PlatepoolError) return otherwise(error.message);
      crashes.push(error instanceof Error ? (error.stack ?? error.message) : String(error));
      return otherwise(INNER_ERROR);
    }
  };

  const looks: (SeenPhoto | RejectedPhoto)[] = [];
  for (const [i, photo] of group.photos.entries()) {
    const unread = { file: photo.file, light: photo.light ?? ("white" as const), width: 0, height: 0 };
    const work = () => lookAt(photo, load, platesListed(group, i));
    looks.push(await guarded<SeenPhoto | RejectedPhoto>(work, (reason) => ({ ...unread, reason })));
  }

  const upright = standUpright(
    looks.flatMap((look) => seenOrNull(look) ?? []),
    group.up ?? null,
  );
  for (const photo of upright) looks[looks.findIndex((look) => look.file === photo.file)] = photo;
  const { jobs, findings } = plateJobs(group, looks.map(seenOrNull));
  const plates: GroupPlate[] = [];
  const failed = new Map<string, string>();
  for (const job of jobs) {
    const plate = await guarded<GroupPlate | string>(
      () => readJob(job, options),
      (reason) => reason,
    );
    if (typeof plate !== "string") plates.push(plate);
    else for (const { photo } of job.views) failed.set(photo.file, plate);
  }

  const photos: PhotoReading[] = [];
  for (const look of looks) photos.push(await photoReading(look, plates, failed, options));
  const seen = looks.flatMap((l) => seenOrNull(l)?.findings ?? []);
  return { photos, plates, findings: [...seen, ...findings], crashes };
}

function platesListed(group: PhotoGroup, photo: number): number | null {
  return group.plates?.filter((p) => p.shownBy.some((s) => s.photo === photo)).length ?? null;
}

function seenOrNull(look: SeenPhoto | RejectedPhoto): SeenPhoto | null {
  return "picture" in look ? look : null;
}

async function readJob(job: PlateJob, options: ReadGroupOptions): Promise<GroupPlate> {
  const { listed, laneNames, lanesLine, origin, front } = job;
  const views = job.views.map(({ photo: { plates, ...photo }, place }) => ({ ...photo, ...plates[place] }));
  const id = listed === null ? "" : `P${listed + 1}`;
  const { value: reading, findings } = readPlate(views, { id, laneNames, origin, front });
  const photos = job.views.map((v) => v.photo);
  const straightened = options.pictures ? await straightenedPictures(reading, photos) : [];
  return { listed, laneNames, lanesLine, reading, findings, straightened };
}

async function photoReading(
  look: SeenPhoto | RejectedPhoto,
  plates: readonly GroupPlate[],
  failed: ReadonlyMap<string, string>,
  options: ReadGroupOptions,
): Promise<PhotoReading> {
  const { file, light, width, height } = look;
  const seen = seenOrNull(look);
  if (seen === null)
    return { file, light, width, height, quality: null, picture: null, reason: (look as RejectedPhoto).reason };
  const read = plates.some((p) => p.reading.photos.some((f) => f.file === file));
  const qualities = seen.plates.map((p) => p.quality);
  const quality = qualities.find((q) => q.advice !== null) ?? qualities[0];
  const picture = options.pictures ? await shrunkPhoto(seen) : null;
  const reason = read ? null : (failed.get(file) ?? "None of its plates could be read.");
  return { file, light, width, height, quality, picture, reason };
}
