import { type Dirent, promises as fs } from "node:fs";
import { basename, extname, join, resolve } from "node:path";
import { type Finding, PlatepoolError } from "../model/index.ts";
import { naturalOrder } from "./naturalOrder.ts";

/** A photo of the run: `file` is its bare name, unique in the run; `path` is where it lies. */
export interface PhotoFile {
  readonly file: string;
  readonly path: string;
}

export interface FoundPhotos {
  /** In natural order of their names. */
  readonly photos: readonly PhotoFile[];
  readonly findings: readonly Finding[];
}

const PHOTO_ENDINGS = new Set([
  ".jpg",
  ".jpeg",
  ".jpe",
  ".jfif",
  ".png",
  ".tif",
  ".tiff",
  ".webp",
  ".heic",
  ".heif",
  ".hif",
]);
const OTHER_PICTURES = new Set([
  ".gif",
  ".bmp",
  ".svg",
  ".avif",
  ".pdf",
  ".dng",
  ".cr2",
  ".cr3",
  ".nef",
  ".arw",
  ".raf",
  ".orf",
]);

/**
 * Lists the photos of a run folder: those in it and those in its `plates` folder. Hidden files, the results and
 * everything without a photo's ending are passed over.
 * @throws PlatepoolError folder-missing, folder-not-a-folder, folder-unreadable
 */
export async function findPhotos(folder: string): Promise<FoundPhotos> {
  const findings: Finding[] = [];
  const own = await listPhotos(folder, await listed(folder), findings);
  const plates = join(folder, "plates");
  const inner = await listPhotos(plates, await listedOrNothing(plates), findings);
  const names = new Set(own.map((p) => p.file));
  for (const { file } of inner.filter((p) => names.has(p.file)))
    findings.push({
      code: "photo-name-twice",
      message: `${file}: a photo of this name stands both in the folder and in plates; the one in plates is not read.`,
      remedy: "Give one of them another name.",
      where: { photo: file },
    });
  const photos = [...own, ...inner.filter((p) => !names.has(p.file))];
  return { photos: photos.sort((a, b) => naturalOrder(a.file, b.file)), findings };
}

async function listed(folder: string): Promise<Dirent[]> {
  try {
    return await fs.readdir(folder, { withFileTypes: true });
  } catch (error) {
    throw folderFault(error, basename(resolve(folder)));
  }
}

async function listedOrNothing(folder: string): Promise<Dirent[]> {
  const stat = await fs.stat(folder).catch(() => null);
  return stat?.isDirectory() ? listed(folder) : [];
}

function folderFault(error: unknown, name: string): PlatepoolError {
  const code = (error as NodeJS.ErrnoException).code;
  if (code === "ENOENT")
    return new PlatepoolError(
      "folder-missing",
      `${name}: there is no such folder: check its name, or make it and put the photos in`,
    );
  if (code === "ENOTDIR")
    return new PlatepoolError(
      "folder-not-a-folder",
      `${name}: this is a file, not a folder: name the folder that holds the photos`,
    );
  return new PlatepoolError("folder-unreadable", `${name}: the folder cannot be read: check that you may open it`);
}

async function listPhotos(folder: string, entries: readonly Dirent[], findings: Finding[]): Promise<PhotoFile[]> {
  const photos: PhotoFile[] = [];
  for (const entry of entries) {
    const file = entry.name;
    const ending = extname(file).toLowerCase();
    if (file.startsWith(".") || !(PHOTO_ENDINGS.has(ending) || OTHER_PICTURES.has(ending))) continue;
    const path = join(folder, file);
    // A link is followed; a dangling one, a folder or a device named like a photo is not.
    const stat = await fs.stat(path).catch(() => null);
    if (stat === null) findings.push(dangling(file));
    else if (stat.isFile() && PHOTO_ENDINGS.has(ending)) photos.push({ file, path });
    else if (stat.isFile()) findings.push(otherPicture(file, ending));
  }
  return photos;
}

function dangling(file: string): Finding {
  return {
    code: "photo-missing",
    message: `${file}: a link to a photo that is not there.`,
    remedy: "Put the photo itself in the folder.",
    where: { photo: file },
  };
}

function otherPicture(file: string, ending: string): Finding {
  return {
    code: "photo-unsupported",
    message: `${file}: ${ending.slice(1).toUpperCase()} files are not read.`,
    remedy: "Save it as JPEG, PNG, TIFF, WebP or HEIC if it shows a plate.",
    where: { photo: file },
  };
}
