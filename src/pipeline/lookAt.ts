import { decodePhoto } from "../codec/index.ts";
import {
  type Finding,
  type FrontSide,
  type Light,
  type PhotoQuality,
  PlatepoolError,
  type Quad,
} from "../model/index.ts";
import { recogniseLight } from "../plate/light/index.ts";
import { locatePlates } from "../plate/locate/index.ts";
import { judgeQuality } from "../plate/quality/index.ts";
import { mayBeOnePlate, type ShapeRange, shapeRange } from "../plate/rectify/index.ts";
import type { Picture } from "../raster/picture.ts";
import type { GroupPhoto, PlateWay } from "./group.ts";

/** Long side, in pixels, of the picture that a photo is read from: what a pencil line and a faint spot need. */
export const READ_SIDE = 2000;

/** A decoded photo with the plates seen in it, left to right. */
export interface SeenPhoto {
  readonly file: string;
  readonly light: Light;
  readonly stain: string | null;
  /** Where the solvent front points in it, if somebody said so. */
  readonly up?: FrontSide;
  readonly picture: Picture;
  readonly width: number;
  readonly height: number;
  readonly scale: number;
  readonly plates: readonly SeenPlate[];
  /** How its plates stood before they were turned; left out: somebody said so, or they were not looked at yet. */
  readonly ways?: readonly PlateWay[];
  readonly findings: readonly Finding[];
}

export interface SeenPlate {
  readonly quad: Quad;
  /** 0..1: how sure it is that this is a plate and that these are its corners. */
  readonly sureness: number;
  readonly quality: PhotoQuality;
}

/** A photo of which nothing can be read. */
export interface RejectedPhoto {
  readonly file: string;
  readonly light: Light;
  readonly width: number;
  readonly height: number;
  readonly reason: string;
}

/** Below this, the recognised light is a guess. */
const SURE_OF_LIGHT = 0.6;

/**
 * Decodes a photo and finds the plates in it.
 * @param count plates it should show; null: nobody said
 * @param shapes of its plates, standing or lying, where another photo shows them; empty: any
 */
export async function lookAt(
  photo: GroupPhoto,
  load: (file: string) => Promise<Uint8Array>,
  count: number | null,
  shapes: readonly ShapeRange[],
): Promise<SeenPhoto | RejectedPhoto> {
  const { file } = photo;
  try {
    const { picture, width, height, scale } = await decodePhoto(await load(file), file, { maxLongSide: READ_SIDE });
    const fits = (quad: Quad) => {
      const own = shapeRange(quad, picture.width, picture.height);
      return shapes.some((shape) => mayBeOnePlate(own, shape));
    };
    const located = locatePlates(picture, { count, light: photo.light, ...(shapes.length > 0 && { fits }) });
    const doubts = located.findings.map((f) => ({ ...f, where: { ...f.where, photo: file } }));
    if (located.value.length === 0) {
      const said = doubts.map((f) => `${f.message} ${f.remedy}`).join(" ");
      return {
        file,
        light: photo.light ?? "white",
        width,
        height,
        reason: said || "No TLC plate was found in this photo.",
      };
    }
    const plates = located.value.map(({ quad, confidence: sureness }) => {
      return { quad, sureness, quality: judgeQuality(picture, quad, scale) };
    });
    const { light, doubt } = lightOf(photo, picture, plates[0].quad);
    const { stain, up } = photo;
    return {
      file,
      light,
      stain,
      ...(up && { up }),
      picture,
      width,
      height,
      scale,
      plates,
      findings: [...doubts, ...doubt],
    };
  } catch (error) {
    if (!(error instanceof PlatepoolError)) throw error;
    const reason = error.message.startsWith(`${file}: `) ? error.message.slice(file.length + 2) : error.message;
    return { file, light: photo.light ?? "white", width: 0, height: 0, reason };
  }
}

function lightOf(photo: GroupPhoto, picture: Picture, quad: Quad): { light: Light; doubt: Finding[] } {
  if (photo.light !== null) return { light: photo.light, doubt: [] };
  const { light, confidence } = recogniseLight(picture, quad);
  if (confidence >= SURE_OF_LIGHT) return { light, doubt: [] };
  const doubt: Finding = {
    code: "light-unsure",
    message: `The light is not clear; ${light} is taken.`,
    remedy: "Write light: uv254, uv365 or white beside the photo in run.yaml.",
    where: { photo: photo.file },
  };
  return { light, doubt: [doubt] };
}
