import type { Light, ResultSpot } from "../../model/index.ts";
import { type Markup, markup } from "../markup.ts";
import { percent, rfInWords } from "../words.ts";
import { type Palette, toneOf } from "./palette.ts";
import { type LanePlacement, type StripWindow, stripTransform, windowY } from "./placement.ts";
import { spreadLabels } from "./text.ts";

/** A straightened plate to cut strips from. */
export interface PlatePicture {
  /** "#id" of an `<image>` that stands in the same document, or the address of a picture. */
  readonly href: string;
  readonly width: number;
  readonly height: number;
}

export interface StripProps {
  /** Null where this light has no photo of the plate. */
  readonly picture: PlatePicture | null;
  readonly place: LanePlacement;
  readonly spots: readonly ResultSpot[];
  /** Spots seen under other lights only are drawn faintly. */
  readonly light: Light;
  readonly palette: Palette;
  /** Place of the strip in the drawing. */
  readonly x: number;
  readonly y: number;
  readonly window: StripWindow;
  /** Room for letters to the right of the window. */
  readonly beside: number;
  readonly fontSize: number;
}

/** One lane cut out of its plate, upright on the common Rf scale, with a mark and a letter beside each spot. */
export function laneStripSvg(props: StripProps): string {
  const { x, y } = props;
  return markup`<g class="d-strip" transform="translate(${x} ${y})">${cut(props)}${marks(props)}</g>`.text;
}

function cut({ picture, place, window }: StripProps) {
  if (!picture) {
    return markup`<rect width="${window.width}" height="${window.height}" class="d-nophoto"/>`;
  }
  const { matrix, width } = stripTransform(place, picture, window);
  const x = (window.width - width) / 2;
  const transform = `matrix(${matrix.map((v) => Number(v.toPrecision(7))).join(" ")})`;
  const image = picture.href.startsWith("#")
    ? markup`<use href="${picture.href}" transform="${transform}"/>`
    : markup`<image href="${picture.href}" width="${picture.width}" height="${picture.height}" preserveAspectRatio="none" transform="${transform}"/>`;
  return markup`<svg x="${x}" width="${width}" height="${window.height}" viewBox="${x} 0 ${width} ${window.height}" overflow="hidden">${image}</svg>${edgeTicks(window, x, width)}`;
}

/** Short ticks at both edges where origin and front lie, so that no line runs over the evidence. */
function edgeTicks(window: StripWindow, x: number, width: number) {
  const ticks = [0, 1].map((rf) => `M${x} ${windowY(window, rf).toFixed(2)}h4m${(width - 8).toFixed(2)} 0h4`).join("");
  return markup`<path d="${ticks}" class="d-tickhalo"/><path d="${ticks}" class="d-tick"/>`;
}

/** Marks beside the strip: named spots in their tone with a letter, unnamed ones as small hollow marks. */
function marks({ spots, light, palette, window, beside, fontSize }: StripProps) {
  const edge = window.width + 0.5;
  const named = spots.filter((s) => s.component !== null).sort((a, b) => b.rf - a.rf);
  const wanted = named.map((s) => windowY(window, s.rf));
  const placed = spreadLabels(wanted, fontSize * 0.95, fontSize * 0.5, window.height - fontSize * 0.3);
  const text = window.width + Math.min(beside * 0.62, fontSize * 0.85);
  const letters = named.map((spot, i) => {
    const tone = toneOf(palette, spot.component);
    return mark(
      spot,
      light,
      markup`<path d="M${edge} ${wanted[i]}l4.5 -3.2v6.4z" fill="${tone.colour}" class="d-rim"/><text x="${text}" y="${placed[i] + fontSize * 0.35}" font-size="${fontSize}" class="d-strong" text-anchor="middle">${tone.letter}</text>`,
    );
  });
  const unnamed = spots
    .filter((s) => s.component === null)
    .map((s) => mark(s, light, markup`<path d="M${edge} ${windowY(window, s.rf)}l3 -2.2v4.4z" class="d-unnamed"/>`));
  return markup`${unnamed}${letters}`;
}

function mark(spot: ResultSpot, light: Light, drawn: Markup): Markup {
  const here = spot.lights.length === 0 || spot.lights.includes(light);
  const told = `Rf ${rfInWords(spot.rf)}, ${spot.component ?? "no component"}, ${percent(spot.confidence)} sure${spot.flags.length ? `, ${spot.flags.join(", ")}` : ""}`;
  return markup`<g class="${here ? "d-spot" : "d-spot d-elsewhere"}"><title>${told}</title>${drawn}</g>`;
}
