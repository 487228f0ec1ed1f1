import { lineAt, type Spot } from "../../model/index.ts";
import type { PlateFrame } from "../frame.ts";
import type { SignalMap } from "../view.ts";

type Colour = readonly [number, number, number];

/** Heights beside the origin, as a share of the plate's, in which strokes are its pencil; noise widths of a stroke; fewer pixels tell nothing. */
const ORIGIN = { height: 0.02, rim: 0.03, stroke: 5, pixels: 40 };
/** Spots that show how spots look. */
const CLEAR = { rf: 0.05, confidence: 0.9 };
/** Colours nearer to each other (one less their cosine) are one. */
const APART = 0.002;
/** A photo counts by how far pencil and spots differ in it, and by how far the spot stands out of its noise, up to here. */
const STANDS_OUT = 20;
/**
 * Where between pencil (-1) and spots (1) a colour lies that is pencil's alone. Of 60 listed on the start lines of eight renderers where
 * nothing was, 57 lie beyond, and 25 of 121 residues, most of which pencil covers.
 */
const PENCIL = -0.7;

/**
 * Tells dots, crosses and ticks drawn on the start line from what was left there, by their colour: graphite takes nearly the same share of
 * all light, a substance what it absorbs.
 * @param spots of the whole plate
 * @returns whether a spot has the colour of the plate's pencil rather than that of its spots; false where these do not differ
 */
export function graphiteOn(
  maps: readonly SignalMap[],
  frame: PlateFrame,
  spots: readonly Spot[],
): (spot: Spot) => boolean {
  const clear = spots.filter(({ rf, confidence }) => rf > CLEAR.rf && confidence > CLEAR.confidence);
  const photos = maps.map((map, photo) => ({
    pencil: pencilColour(map, frame),
    spots: sum(clear.map(({ responses }) => responses[photo].colour)),
  }));
  return ({ responses }) => {
    let best = { weight: 0, between: 0 };
    for (const [photo, { pencil, spots }] of photos.entries()) {
      const apart = pencil ? 1 - cosine(pencil, spots) : 0;
      const weight = apart * Math.min(STANDS_OUT, responses[photo].contrastToNoise);
      if (pencil === null || apart < APART || apart >= 1 || weight <= best.weight) continue;
      const { colour } = responses[photo];
      best = { weight, between: (cosine(colour, spots) - cosine(colour, pencil)) / apart };
    }
    return best.between < PENCIL;
  };
}

/** Density of the strokes on the start line, summed up; null where there are too few. */
function pencilColour({ width, height, strokes, strokeNoise, channels }: SignalMap, frame: PlateFrame): Colour | null {
  const total: [number, number, number] = [0, 0, 0];
  let pixels = 0;
  for (let x = Math.round(ORIGIN.rim * width); x < (1 - ORIGIN.rim) * width; x++) {
    const line = lineAt(frame.origin, (x + 0.5) / width) * height;
    const last = Math.min(height - 1, line + ORIGIN.height * height);
    for (let y = Math.max(0, Math.round(line - ORIGIN.height * height)); y <= last; y++) {
      const i = y * width + x;
      if (strokes.data[i] <= ORIGIN.stroke * strokeNoise) continue;
      pixels++;
      for (let c = 0; c < 3; c++) total[c] += channels[c].data[i];
    }
  }
  return pixels < ORIGIN.pixels ? null : total;
}

function sum(colours: readonly Colour[]): Colour {
  return colours.reduce<Colour>(([r, g, b], one) => [r + one[0], g + one[1], b + one[2]], [0, 0, 0]);
}

/** 0 where either is nothing. */
function cosine(a: Colour, b: Colour): number {
  const norm = Math.hypot(...a) * Math.hypot(...b);
  return norm > 0 ? (a[0] * b[0] + a[1] * b[1] + a[2] * b[2]) / norm : 0;
}
