import type { FrontSide, RunFile, RunPhoto, RunPlate } from "../model/index.ts";
import type { GroupPhoto, PhotoGroup, PlateRequest } from "./group.ts";
import { nameParts, pairPhotos } from "./pairPhotos.ts";

/** Which photos are read together, and which are in the folder but in no group. */
export interface Grouping {
  readonly groups: readonly PhotoGroup[];
  /** Photos that the run file names but the folder lacks. */
  readonly missing: readonly GroupPhoto[];
  /** Photos that the folder holds but the run file does not name. */
  readonly unlisted: readonly string[];
}

/**
 * @param files photos of the folder, in the order in which their lanes run on
 * @param run the run file, or null
 */
export function groupPhotos(files: readonly string[], run: RunFile | null): Grouping {
  const grouping = run?.plates
    ? listedGroups(files, run.plates)
    : { groups: freeGroups(files), missing: [], unlisted: [] };
  return run?.up ? { ...grouping, groups: grouping.groups.map((g) => standing(g, run.up!)) } : grouping;
}

/** The group with its photos told to stand as those of the run do; what was said of a single photo stays. */
export function standing(group: PhotoGroup, up: FrontSide): PhotoGroup {
  return { ...group, photos: group.photos.map((p) => ({ up, ...p })) };
}

function freeGroups(files: readonly string[]): PhotoGroup[] {
  const groups = pairPhotos(files);
  return groups.map((members) => ({
    photos: members.map((i) => ({ file: files[i], light: null, stain: nameParts(files[i]).stain })),
    plates: null,
    ...(groups.length > 1 && { looks: true }),
  }));
}

function listedGroups(files: readonly string[], plates: readonly RunPlate[]): Grouping {
  const there = new Set(files);
  const last = Math.max(...plates.flatMap((p) => fractionsOf(p)));
  const groups: { photos: GroupPhoto[]; plates: PlateRequest[] }[] = [];
  const places = new Map<string, number>();
  plates.forEach((plate, listed) => {
    const photos = plate.photos.filter((p) => there.has(p.file));
    if (photos.length === 0) return;
    // A photo that shows several plates ties them together.
    const tied = groups.filter((g) => g.photos.some((p) => photos.some((q) => q.file === p.file)));
    const group = merged(tied);
    for (const g of tied) groups.splice(groups.indexOf(g), 1);
    for (const photo of photos) if (!group.photos.some((p) => p.file === photo.file)) group.photos.push(asPhoto(photo));
    const shownBy = photos.map(({ file }) => {
      const place = places.get(file) ?? 0;
      places.set(file, place + 1);
      return { photo: group.photos.findIndex((p) => p.file === file), place };
    });
    const { lanes, lanesLine = null, origin, front, eluents } = plate;
    const fractions = fractionsOf(plate);
    const late = fractions.length > 0 && { late: fractions.reduce((sum, f) => sum + f, 0) / fractions.length / last };
    const ran = eluents && eluents.length > 0 && { eluents };
    group.plates.push({ listed, laneNames: lanes, lanesLine, ...late, origin, front, ...ran, shownBy });
    groups.push(group);
  });
  const named = plates.flatMap((p) => p.photos);
  const missing = new Map(named.filter((p) => !there.has(p.file)).map((photo) => [photo.file, asPhoto(photo)]));
  const unlisted = files.filter((f) => !named.some((p) => p.file === f));
  return { groups, missing: [...missing.values()], unlisted };
}

function fractionsOf({ lanes }: RunPlate): number[] {
  return (lanes ?? []).flatMap(({ fraction }) => fraction ?? []);
}

function asPhoto({ file, light, stain, up }: RunPhoto): GroupPhoto {
  return { file, light, stain, ...(up && { up }) };
}

/** One group out of several; the photo indexes of the later ones move up. */
function merged(tied: readonly { photos: GroupPhoto[]; plates: PlateRequest[] }[]) {
  const all: { photos: GroupPhoto[]; plates: PlateRequest[] } = { photos: [], plates: [] };
  for (const group of tied) {
    const shift = all.photos.length;
    all.photos.push(...group.photos);
    all.plates.push(
      ...group.plates.map((p) => ({ ...p, shownBy: p.shownBy.map((s) => ({ ...s, photo: s.photo + shift })) })),
    );
  }
  return all;
}
