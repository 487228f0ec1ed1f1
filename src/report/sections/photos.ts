import type { ResultPhoto } from "../../model/index.ts";
import { annotation } from "../annotation/annotationSvg.ts";
import type { ShrunkPhoto } from "../input.ts";
import { coordinate, type Markup, markup } from "../markup.ts";
import { photoImage } from "../pictures.ts";
import { count, lightInWords } from "../words.ts";
import { type Context, section } from "./context.ts";

/** Every photo that was read, with what was read drawn over it. */
export function photosSection(context: Context): Markup {
  const read = context.result.photos.filter((p) => p.status === "read");
  const figures = read.flatMap((photo) => {
    const shrunk = context.photos.find((s) => s.file === photo.file);
    if (!shrunk || photo.width <= 0) return [];
    const spots = spotCount(context, photo);
    const stain = context.straightened.find((s) => s.photo === photo.file)?.stain ?? null;
    const scale = photo.width / shrunk.width;
    const alt = `Photo ${photo.file}, ${lightInWords(photo.light, stain)}, with the plate’s outline, ${count(spots.lanes, "lane")} and ${count(spots.spots, "spot")} drawn over it`;
    return [
      markup`<figure class="photo"><svg class="drawing" viewBox="${viewOf(photo, shrunk, scale)}" preserveAspectRatio="xMinYMin meet" role="img" aria-label="${alt}">${photoImage(shrunk)}${annotation(context.result, photo, scale, context.palette)}</svg><figcaption><b class="file">${photo.file}</b> ${lightInWords(photo.light, stain)}${
        photo.plates.length > 0 && ` · plate ${photo.plates.join(", ")}`
      } · ${count(spots.lanes, "lane")}, ${count(spots.spots, "spot")}${photo.quality?.advice && markup`<br/>${sentence(photo.quality.advice)}`}</figcaption></figure>`,
    ];
  });
  if (figures.length === 0) return markup``;
  return section(
    "photos",
    "Photos",
    "Cut to the plate. White: its outline, lanes, origin and front (long dashes where one was assumed, not found). Coloured: spots with component and Rf, dotted where another light shows them; thin grey rings belong to no component.",
    markup`<div class="photos">${figures}</div>`,
  );
}

/** The part of the picture that holds the plates, with some bench around it; all of it where no corners are known. */
function viewOf(photo: ResultPhoto, shrunk: ShrunkPhoto, scale: number): string {
  const corners = photo.corners.flat().map(([x, y]) => [x / scale, y / scale] as const);
  if (corners.length === 0) return `0 0 ${shrunk.width} ${shrunk.height}`;
  const range = (values: readonly number[], most: number): [from: number, length: number] => {
    const margin = (Math.max(...values) - Math.min(...values)) * 0.07;
    const from = Math.max(0, Math.min(...values) - margin);
    return [from, Math.min(most, Math.max(...values) + margin) - from];
  };
  const [x, width] = range(
    corners.map((c) => c[0]),
    shrunk.width,
  );
  const [y, height] = range(
    corners.map((c) => c[1]),
    shrunk.height,
  );
  return [x, y, Math.max(1, width), Math.max(1, height)].map(coordinate).join(" ");
}

function sentence(text: string): string {
  return `${text.slice(0, 1).toUpperCase()}${text.slice(1)}`;
}

function spotCount({ result }: Context, photo: ResultPhoto): { lanes: number; spots: number } {
  const lanes = result.plates.filter((p) => photo.plates.includes(p.id)).flatMap((p) => p.lanes);
  return { lanes: lanes.length, spots: lanes.reduce((sum, l) => sum + l.spots.length, 0) };
}
