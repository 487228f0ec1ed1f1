import { type Light, PlatepoolError, type Result, type ResultPhoto } from "../../model/index.ts";
import { type Palette, paletteOf, TOL_GREY, toneOf } from "../drawing/palette.ts";
import { type Markup, markup } from "../markup.ts";
import { boxOf, labelHeight, laneLabels, spotLabels } from "./labels.ts";
import { type Box, type PlateShapes, plateShapes } from "./plateShapes.ts";
import { strokeText } from "./strokeFont.ts";

/**
 * The reading of one photo as an overlay of its size: plate outline, origin, front, lanes, spots with component and Rf,
 * lane labels. Paths only, lettering too, so that it can be rasterised on a machine without fonts.
 * @param file `ResultPhoto.file`
 * @param picture the size in pixels of the picture it is laid over, and so its own, > 0
 * @throws PlatepoolError `photo-unknown` where the result has no such photo, or one whose size is not known
 */
export function annotationSvg(
  result: Result,
  file: string,
  { width, height }: { readonly width: number; readonly height: number },
): string {
  const photo = result.photos.find((p) => p.file === file);
  if (!photo || photo.width <= 0 || photo.height <= 0 || !(width > 0 && height > 0)) {
    throw new PlatepoolError(
      "photo-unknown",
      `${file}: no picture of this name was read, so nothing can be drawn on it.`,
    );
  }
  const scale = photo.width / width;
  const palette = paletteOf(result.components.map((c) => c.id));
  return markup`<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}" viewBox="0 0 ${width} ${height}">${annotation(result, photo, scale, palette)}</svg>`
    .text;
}

/** The overlay's paths alone, to be put over a picture of the photo's size / `scale`. */
export function annotation(result: Result, photo: ResultPhoto, scale: number, palette: Palette): Markup {
  const picture = { x0: 0, y0: 0, x1: photo.width / scale, y1: photo.height / scale };
  const plates = photo.plates.flatMap((id, i) => {
    const plate = result.plates.find((p) => p.id === id);
    const shapes = plate && plateShapes(plate, photo.corners[i] ?? [], scale);
    return shapes ? [shapes] : [];
  });
  return markup`<g fill="none" stroke-linecap="round" stroke-linejoin="round">${plates.map((p) => plateMarks(p, palette, photo.light, picture))}</g>`;
}

function plateMarks(shapes: PlateShapes, palette: Palette, light: Light, picture: Box): Markup {
  const u = Math.max(0.6, shapes.size / 520);
  const dash = (assumed: boolean) => (assumed ? `${(5 * u).toFixed(1)} ${(5 * u).toFixed(1)}` : null);
  const height = labelHeight(shapes.lanes, shapes.size);
  const names = laneLabels(shapes.lanes, Math.min(height * 1.3, shapes.size * 0.028));
  const letter = (component: string) => toneOf(palette, component).letter;
  const lettering =
    spotLabels(shapes.lanes, height, letter, picture, names.map(boxOf)) +
    names.map((n) => strokeText(n.text, n.x, n.y, n.height)).join("");
  const spots = shapes.lanes.flatMap((l) => l.spots);
  const unnamed = spots.filter((s) => s.spot.component === null);
  const named = spots.filter((s) => s.spot.component !== null);
  const dots = `${(2 * u).toFixed(1)} ${(4.5 * u).toFixed(1)}`;
  return markup`${[
    line(shapes.outline, 1.6 * u, "#ffffff"),
    line(shapes.lanes.map((l) => l.path).join(""), 0.8 * u, "#ffffff", `${(1.5 * u).toFixed(1)} ${(4 * u).toFixed(1)}`),
    line(shapes.origin.path, 1.2 * u, "#ffffff", dash(shapes.origin.assumed)),
    line(shapes.front.path, 1.2 * u, "#ffffff", dash(shapes.front.assumed)),
    ...unnamed.map(({ path }) => line(path, 0.7 * u, TOL_GREY)),
    ...named.map(({ spot, path }) => {
      const shown = spot.lights.length === 0 || spot.lights.includes(light);
      return line(path, 1.8 * u, toneOf(palette, spot.component).colour, shown ? null : dots);
    }),
    lettering && letters(lettering, height, light),
  ]}`;
}

/** Lettering: dark with a light halo where the layer is light, the other way round where it is dark (365 nm). */
function letters(d: string, height: number, light: Light): Markup {
  const [ink, halo] = light === "uv365" ? ["#ffffff", "#101416"] : ["#101416", "#ffffff"];
  return markup`<path d="${d}" stroke="${halo}" stroke-opacity="0.85" stroke-width="${height * 0.5}"/><path d="${d}" stroke="${ink}" stroke-width="${height * 0.16}"/>`;
}

/** A stroke with a dark halo under it, legible on dark and on light. */
function line(d: string, width: number, colour: string, dash: string | null = null): Markup {
  const dashes = dash && markup` stroke-dasharray="${dash}"`;
  return markup`<path d="${d}" stroke="#101416" stroke-opacity="0.72" stroke-width="${width * 2.3}"${dashes}/><path d="${d}" stroke="${colour}" stroke-width="${width}"${dashes}/>`;
}
