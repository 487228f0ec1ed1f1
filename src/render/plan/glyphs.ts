import type { Stroke } from "../recipe.ts";

/** Single-stroke figures and letters on a grid 4 wide and 6 high, y downwards; strokes apart by a bar. */
const GLYPHS: Readonly<Record<string, string>> = {
  "0": "1,0 3,0 4,2 4,4 3,6 1,6 0,4 0,2 1,0",
  "1": "1,1 2.4,0 2.2,6",
  "2": "0,1.4 1,0 3,0 4,1.4 3.4,3 0,6 4,5.8",
  "3": "0,0.6 2,0 3.6,0.8 3.4,2.4 1.6,3 3.8,3.8 3.8,5.2 2,6 0,5.4",
  "4": "3,6 3,0 0,4 4,4",
  "5": "3.8,0 0.6,0 0.4,2.6 2.6,2.4 4,3.8 3.4,5.6 1.6,6 0,5.4",
  "6": "3.4,0 1,2 0,4.2 1,6 3,6 4,4.4 3,3 0.4,3.6",
  "7": "0,0 4,0 1.6,6",
  "8": "2,2.8 0.4,1.6 1.2,0.2 3,0.2 3.6,1.6 2,2.8 0.2,4.4 1.2,6 3,6 3.8,4.4 2,2.8",
  "9": "3.8,2 2.4,3 0.6,2.4 0.4,0.8 2,0 3.6,0.6 3.8,2 3,6",
  c: "3.6,2.6 2,2 0.4,3 0.4,5 2,6 3.6,5.4",
  r: "0.6,2 0.6,6|0.6,3.2 2,2 3.4,2.2",
  s: "3.4,2.4 2,2 0.6,2.8 1.4,3.8 3,4.2 3.4,5.2 2,6 0.4,5.6",
  m: "0,6 0,2 1.6,2.4 2,6|2,3 3.4,2 4,6",
  x: "0,2 4,6|4,2 0,6",
  a: "3.6,2.4 1.4,2 0.2,4 1.4,6 3.2,5 3.6,2.4 3.8,6",
  e: "0.4,4 3.6,3.8 3,2.2 1.4,2 0.3,3.6 0.8,5.6 2.4,6 3.6,5.4",
  k: "0.4,0 0.4,6|3.4,2 0.4,4.2 3.6,6",
  "-": "0.6,3.4 3.4,3.3",
  ":": "1.8,2.2 2,2.5|1.8,5 2,5.3",
};

/**
 * Handwriting in pencil: one stroke or more per figure.
 * @param height of the figures in mm
 * @param wobble 0..1: how untidy; drawn with `uniform` (-1..1)
 */
export function writePencil(
  text: string,
  x: number,
  y: number,
  height: number,
  density: number,
  wobble: number,
  uniform: () => number,
): Stroke[] {
  const cell = height / 6;
  return [...text].flatMap((letter, i) => {
    const glyph = GLYPHS[letter];
    if (!glyph) return [];
    const dx = wobble * uniform() * cell;
    const dy = wobble * uniform() * cell * 1.5;
    const lean = wobble * uniform() * 0.25;
    return glyph.split("|").map((stroke) => ({
      points: stroke.split(" ").map((pair): readonly [number, number] => {
        const [gx, gy] = pair.split(",").map(Number);
        const px = x + (i * 5.4 + gx) * cell + dx + lean * (3 - gy) * cell + wobble * uniform() * cell * 0.25;
        return [px, y + gy * cell + dy + wobble * uniform() * cell * 0.25];
      }),
      width: Math.max(0.25, height * 0.11),
      density,
    }));
  });
}
