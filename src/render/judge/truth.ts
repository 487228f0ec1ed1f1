import type { Quad } from "../../model/photo.ts";
import type { PhotoRecipe, PlateRecipe, RunRecipe, SpotRecipe } from "../recipe.ts";
import { plateToPhoto } from "../scene/compose.ts";
import { applyMatrix, distort } from "../scene/homography.ts";
import { type PlateTruth, type RunTruth, type SpotTruth, type SpotVisibility, TRUTH_SCHEMA } from "../truth.ts";
import { poolTruths, tubeTruths } from "./tubes.ts";
import { isHidden, type Sight, visibilityOf } from "./visibility.ts";

/** What a spot must show to be asked for. */
export const MUST_CONTRAST = 0.03;
export const MUST_CONTRAST_TO_NOISE = 6;

const rounded = (value: number, digits: number) => Number(value.toFixed(digits));

/** Corners of a plate in a photo, pixels of the upright picture; top-left first, clockwise with the front up. */
export function cornersIn(photo: PhotoRecipe, index: number, plate: PlateRecipe): Quad {
  const m = plateToPhoto(photo, index, plate);
  const at = (x: number, y: number): readonly [number, number] => {
    const [ux, uy] = applyMatrix(m, x, y);
    return distort(ux, uy, photo.width, photo.height, photo.distortion);
  };
  const { width: w, height: h } = plate;
  return [at(0, 0), at(w, 0), at(w, h), at(0, h)];
}

/** How each spot of a plate shows in one photo, in the order of lanes and spots. */
export function measurePlate(recipe: RunRecipe, plate: PlateRecipe, sight: Sight, photo: number): SpotVisibility[] {
  return plate.lanes.flatMap((lane) =>
    lane.spots.map((spot) => {
      const response = recipe.substances.find((s) => s.id === spot.substance)?.response ?? null;
      const { contrast, contrastToNoise } = visibilityOf(sight, spot, response);
      return { photo, contrast: rounded(contrast, 4), contrastToNoise: rounded(contrastToNoise, 2) };
    }),
  );
}

function plateTruth(plate: PlateRecipe, seen: readonly SpotVisibility[][]): PlateTruth {
  let next = 0;
  const { width, height } = plate;
  const lanes = plate.lanes.map((lane) => {
    const start = next;
    next += lane.spots.length;
    const visibility = lane.spots.map((_, i) => seen.map((list) => list[start + i]));
    const best = (spot: SpotRecipe) => {
      const i = lane.spots.indexOf(spot);
      return Math.max(1e-6, ...visibility[i].map((v) => v.contrastToNoise)) / Math.max(1e-9, spot.amount);
    };
    const spots = lane.spots.map((spot, i): SpotTruth => {
      const shown = visibility[i].some(
        (v) => v.contrast >= MUST_CONTRAST && v.contrastToNoise >= MUST_CONTRAST_TO_NOISE,
      );
      const hidden = isHidden(spot, lane.spots, best);
      return {
        rf: rounded(spot.rf, 5),
        x: rounded(spot.x / width, 5),
        y: rounded(spot.y / height, 5),
        component: spot.substance,
        amount: rounded(spot.amount, 5),
        visibility: visibility[i],
        mustFind: shown && !hidden && spot.substance !== null,
        hidden,
      };
    });
    return { index: lane.index, label: lane.label, fraction: lane.fraction, x: rounded(lane.x / width, 5), spots };
  });
  return {
    id: plate.id,
    aspect: rounded(height / width, 5),
    width: rounded(width, 3),
    height: rounded(height, 3),
    origin: rounded(plate.origin.y / height, 5),
    front: rounded(plate.front.y / height, 5),
    originMark: plate.originMark,
    frontMark: plate.frontMark,
    photos: seen.map((list) => list[0]?.photo ?? -1).filter((p) => p >= 0),
    lanes,
  };
}

/**
 * Assembles the truth of a run.
 * @param seen per plate: per photo of it, how each spot shows
 */
export function assembleTruth(recipe: RunRecipe, seen: readonly SpotVisibility[][][]): RunTruth {
  const plates = recipe.plates.map((plate, i) => plateTruth(plate, seen[i]));
  const spots = plates.flatMap((p) => p.lanes.flatMap((l) => l.spots));
  const limits = new Map(
    recipe.substances.map(({ id }) => {
      const found = spots.filter((s) => s.component === id && s.mustFind).map((s) => s.amount);
      return [id, found.length ? Math.min(...found) : Number.POSITIVE_INFINITY];
    }),
  );
  const doses = recipe.plates.flatMap((plate) =>
    plate.lanes.flatMap((lane) =>
      lane.fraction === null ? [] : lane.spots.map((s) => s.amount / contentOf(recipe, lane.fraction!, s.substance)),
    ),
  );
  const dose = doses.length ? doses.sort((a, b) => a - b)[doses.length >> 1] : 1;
  const inferred = (tube: number) =>
    recipe.substances
      .map(({ id }, s) => ({ component: id, amount: recipe.contents[tube - 1][s] * dose }))
      .filter(({ component, amount }) => amount >= limits.get(component)!);
  const lanes = plates.flatMap((p) => p.lanes);
  const fractions = tubeTruths(lanes, inferred, recipe.tubes);
  return {
    schema: TRUTH_SCHEMA,
    run: recipe.name,
    level: recipe.level,
    seed: recipe.seed,
    photos: recipe.photos.map((photo) => ({
      file: photo.file,
      light: photo.light,
      stain: photo.stain,
      width: photo.width,
      height: photo.height,
      plates: photo.plates.map(({ plate }) => ({
        plate: recipe.plates[plate].id,
        corners: cornersIn(photo, plate, recipe.plates[plate]).map(([x, y]) => [
          rounded(x, 2),
          rounded(y, 2),
        ]) as unknown as Quad,
      })),
    })),
    plates,
    components: recipe.substances.map(({ id, rf }) => ({ id, rf: rounded(rf, 4) })),
    fractions,
    pools: poolTruths(fractions),
  };
}

function contentOf(recipe: RunRecipe, tube: number, substance: string | null): number {
  const s = recipe.substances.findIndex(({ id }) => id === substance);
  return s < 0 ? 1 : Math.max(1e-9, recipe.contents[tube - 1][s]);
}
