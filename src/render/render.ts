import type { Picture } from "../raster/picture.ts";
import { blurScene } from "./camera/blur.ts";
import { expose } from "./camera/sensor.ts";
import { assembleTruth, measurePlate } from "./judge/truth.ts";
import { textureOf } from "./judge/visibility.ts";
import { type PlateMap, paintPlate } from "./layer/paint.ts";
import { makeSurface, type Surface } from "./layer/texture.ts";
import type { PhotoRecipe, PlateRecipe, RunRecipe } from "./recipe.ts";
import { composeScene, pixelsPerMm, plateToPhoto } from "./scene/compose.ts";
import type { RunTruth, SpotVisibility } from "./truth.ts";

/** One drawn photo, upright; the file is to be stored turned by `orientation` (EXIF). */
export interface RenderedPhoto {
  readonly file: string;
  readonly picture: Picture;
  readonly quality: number;
  readonly orientation: 1 | 3 | 6 | 8;
}

/** Pixels per mm that a plate needs so that no photo of it shows it coarser. */
function scaleFor(recipe: RunRecipe, index: number, plate: PlateRecipe): number {
  const photos = recipe.photos.filter((p) => p.plates.some((placed) => placed.plate === index));
  return Math.max(...photos.map((p) => pixelsPerMm(plateToPhoto(p, index, plate), plate.width / 2, plate.height / 2)));
}

/**
 * Draws a run photo by photo, so that only one is held in memory. Pure: the same recipe gives the same bytes.
 * @returns the truth, once all photos are drawn
 */
export function* renderRun(recipe: RunRecipe): Generator<RenderedPhoto, RunTruth> {
  const seen: SpotVisibility[][][] = recipe.plates.map(() => []);
  const surfaces = new Map<number, Surface>();
  for (const [p, photo] of recipe.photos.entries()) {
    const shown = new Set(photo.plates.map((placed) => placed.plate));
    for (const index of surfaces.keys()) if (!shown.has(index)) surfaces.delete(index);
    const maps = new Map<number, PlateMap>();
    for (const index of shown) {
      const plate = recipe.plates[index];
      const surface = surfaces.get(index) ?? makeSurface(plate, scaleFor(recipe, index, plate));
      surfaces.set(index, surface);
      const { map, sums, look } = paintPlate(plate, recipe.substances, surface, photo.light, photo.stain);
      maps.set(index, map);
      const homography = plateToPhoto(photo, index, plate);
      const texture = textureOf(surface, look);
      seen[index].push(measurePlate(recipe, plate, { photo, homography, surface, sums, look, texture }, p));
    }
    yield { ...finish(photo, recipe.plates, maps), file: photo.file };
  }
  return assembleTruth(recipe, seen);
}

function finish(photo: PhotoRecipe, plates: readonly PlateRecipe[], maps: ReadonlyMap<number, PlateMap>) {
  const scene = composeScene(photo, plates, maps);
  blurScene(scene, photo.camera.blur);
  return { picture: expose(scene, photo.camera), quality: photo.jpegQuality, orientation: photo.orientation };
}
