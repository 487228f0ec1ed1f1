import { isPlate } from "../decisions/index.ts";
import { type Finding, PlatepoolError } from "../model/index.ts";
import type { ShapeRange } from "../plate/rectify/index.ts";
import type { ToldLanes } from "../plate/upright/index.ts";
import type { GroupPlate, GroupReading, JpegBytes, PhotoGroup, PhotoReading, PlateRequest, PlateWay } from "./group.ts";
import { type KeptPlate, keepPlate, type ReadGroupOptions, rehearsePlate } from "./keepPlate.ts";
import { lookAt, type RejectedPhoto, type SeenPhoto } from "./lookAt.ts";
import { agreeOnLook } from "./oneLook.ts";
import { agreeOnShape } from "./oneShape.ts";
import { shrunkPhoto } from "./pictures.ts";
import { plateJobs } from "./requests.ts";
import { standUpright } from "./standUpright.ts";

const INNER_ERROR = "The program failed on this photo. Please report it; PLATEPOOL_DEBUG=1 shows more.";

/** What of plates is said from elsewhere: by a person, and by the other plates of the run. */
export type Told = Pick<PhotoGroup, "mendings" | "byOthers">;

/** A group with its photos decoded and the plates in them found: about 10 MB a photo. */
export interface OpenGroup {
  readonly plates: readonly KeptPlate[];
  /**
   * Reads all plates of the group as they were mended, and with their lines where other plates of the run speak for: the first time
   * all, later what other words touch.
   * @param told of any plates of the run; what is of other plates is passed over
   */
  read(told: Told, options: ReadGroupOptions): Promise<GroupReading>;
  /** Reads its first plate as if a corner had been touched, for nothing but that the code has run: the next time is quick. */
  rehearse(): Promise<void>;
}

/**
 * Decodes the photos of a group and finds the plates in them. What cannot be read is rejected with its reason; the rest
 * goes on.
 * @param load gets a photo's bytes by its file name; may throw `PlatepoolError`
 * @param remember false where it will be read once only: then nothing is held between readings
 */
export async function openGroup(
  group: PhotoGroup,
  load: (file: string) => Promise<Uint8Array>,
  remember = true,
): Promise<OpenGroup> {
  const crashes: string[] = [];
  const look = (i: number, shapes: readonly ShapeRange[]) => {
    const photo = group.photos[i];
    const unread = { file: photo.file, light: photo.light ?? ("white" as const), width: 0, height: 0 };
    const work = () => lookAt(photo, load, platesListed(group, i), shapes);
    return guarded<SeenPhoto | RejectedPhoto>(crashes, work, (reason) => ({ ...unread, reason }));
  };
  const alone: (SeenPhoto | RejectedPhoto)[] = [];
  for (const i of group.photos.keys()) alone.push(await look(i, []));
  const count = platesShown(group);
  const shaped = count === null ? alone : await agreeOnShape(alone, count, look);
  const looks: (SeenPhoto | RejectedPhoto)[] = count === 1 ? agreeOnLook(shaped) : [...shaped];
  const upright = standUpright(
    looks.flatMap((look) => seenOrNull(look) ?? []),
    group.up ?? null,
    { lanesOf: (file, place) => toldLanes(group, file, place), together: (a, b) => showTheSame(group, a, b) },
  );
  for (const photo of upright) looks[looks.findIndex((look) => look.file === photo.file)] = photo;
  const { jobs, findings } = plateJobs(group, looks.map(seenOrNull));
  const plates = jobs.map((job) => keepPlate(job, remember));
  const seen = looks.flatMap((l) => seenOrNull(l)?.findings ?? []);
  const ways = looks.flatMap((l) => seenOrNull(l)?.ways ?? []);
  const shrunk = new Map<string, JpegBytes>();
  return {
    plates,
    read: (told, options) =>
      readAll({ plates, looks, findings: [...seen, ...findings], ways, crashes, shrunk }, told, options),
    rehearse: async () => {
      if (jobs.length > 0)
        await guarded(
          crashes,
          () => rehearsePlate(jobs[0]),
          () => undefined,
        );
    },
  };
}

interface Opened {
  readonly plates: readonly KeptPlate[];
  readonly looks: readonly (SeenPhoto | RejectedPhoto)[];
  readonly findings: readonly Finding[];
  readonly ways: readonly PlateWay[];
  readonly crashes: readonly string[];
  /** Small pictures made so far; they do not change. */
  readonly shrunk: Map<string, JpegBytes>;
}

async function readAll(
  opened: Opened,
  { mendings = [], byOthers = [] }: Told,
  options: ReadGroupOptions,
): Promise<GroupReading> {
  const crashes = [...opened.crashes];
  const plates: GroupPlate[] = [];
  const failed = new Map<string, string>();
  for (const kept of opened.plates) {
    const mending = mendings.find((m) => isPlate(m.plate, kept.key)) ?? null;
    const others = byOthers.find((lines) => isPlate(lines.plate, kept.key)) ?? null;
    const work = () => kept.read({ mending, byOthers: others }, options);
    const plate = await guarded<GroupPlate | string>(crashes, work, (reason) => reason);
    if (typeof plate !== "string") plates.push(plate);
    else for (const file of kept.photos) failed.set(file, plate);
  }
  const photos: PhotoReading[] = [];
  for (const look of opened.looks) {
    const seen = seenOrNull(look);
    if (options.pictures && seen !== null && !opened.shrunk.has(look.file))
      opened.shrunk.set(look.file, await shrunkPhoto(seen));
    photos.push(photoReading(look, plates, failed, options.pictures ? (opened.shrunk.get(look.file) ?? null) : null));
  }
  return { photos, plates, findings: opened.findings, ways: opened.ways, crashes };
}

async function guarded<T>(crashes: string[], work: () => Promise<T> | T, otherwise: (reason: string) => T): Promise<T> {
  try {
    return await work();
  } catch (error) {
    if (error instanceof PlatepoolError) return otherwise(error.message);
    crashes.push(error instanceof Error ? (error.stack ?? error.message) : String(error));
    return otherwise(INNER_ERROR);
  }
}

function platesListed(group: PhotoGroup, photo: number): number | null {
  return group.plates?.filter((p) => p.shownBy.some((s) => s.photo === photo)).length ?? null;
}

/** What the run file says of the lanes of a plate; null: nothing, or of one lane alone. */
function toldLanes({ photos, plates }: PhotoGroup, file: string, place: number): ToldLanes | null {
  const shown = plates?.find((p) => p.shownBy.some((s) => photos[s.photo].file === file && s.place === place));
  return shown?.laneNames && shown.laneNames.length > 1 ? { names: shown.laneNames, late: shown.late ?? null } : null;
}

/** Whether two photos of the group are said to show the same plates, from left to right: by the run file, or by their names. */
function showTheSame({ photos, plates }: PhotoGroup, a: string, b: string): boolean {
  const shows = (file: string, place: number, request: PlateRequest) =>
    request.shownBy.some((s) => photos[s.photo].file === file && s.place === place);
  return (
    plates?.every((request) =>
      request.shownBy.every(({ place }) => shows(a, place, request) === shows(b, place, request)),
    ) ?? true
  );
}

/** How many plates all photos of the group are said to show, the same in each: by the run file, or by their names; null: not the same. */
function platesShown({ photos, plates }: PhotoGroup): number | null {
  if (plates === null) return 1;
  return plates.every(({ shownBy }) => shownBy.length === photos.length) ? plates.length : null;
}

function seenOrNull(look: SeenPhoto | RejectedPhoto): SeenPhoto | null {
  return "picture" in look ? look : null;
}

function photoReading(
  look: SeenPhoto | RejectedPhoto,
  plates: readonly GroupPlate[],
  failed: ReadonlyMap<string, string>,
  picture: JpegBytes | null,
): PhotoReading {
  const { file, light, width, height } = look;
  if ("reason" in look) return { file, light, width, height, quality: null, picture: null, reason: look.reason };
  const read = plates.some((p) => p.reading.photos.some((f) => f.file === file));
  const qualities = look.plates.map((p) => p.quality);
  const quality = qualities.find((q) => q.advice !== null) ?? qualities[0];
  const reason = read ? null : (failed.get(file) ?? "None of its plates could be read.");
  return { file, light, width, height, quality, picture, reason };
}
