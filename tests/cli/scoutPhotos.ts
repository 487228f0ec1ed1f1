import { encodeJpeg } from "../../src/codec/index.ts";
import { chanceOf } from "../../src/render/chance.ts";
import { LEVEL_SETTINGS } from "../../src/render/levels.ts";
import { drawSheet } from "../../src/render/plan/layer.ts";
import { drawPhoto } from "../../src/render/plan/photo.ts";
import { drawPlate } from "../../src/render/plan/plate.ts";
import type { Response, Substance } from "../../src/render/recipe.ts";
import { renderRun } from "../../src/render/render.ts";
import { type Invented, rfOf } from "../planning/support/scouting.ts";

const unstained = { strength: 0, colour: [0.3, 0.3, 0.3] as const };
const response: Response = {
  quench: 1.2,
  glow: null,
  emission: null,
  stain: { kmno4: unstained, pma: unstained, anisaldehyde: unstained, iodine: unstained },
  dye: null,
};

export interface ScoutPhoto {
  readonly file: string;
  readonly bytes: Uint8Array;
}

/** Scouting plates at 254 nm, one composition each: crude, and each substance by itself beside it. */
export async function scoutPhotos(
  substances: readonly Invented[],
  percents: readonly number[],
  seed: number,
): Promise<readonly ScoutPhoto[]> {
  const settings = { ...LEVEL_SETTINGS.easy, lanes: [4, 4] as const };
  const made: ScoutPhoto[] = [];
  for (const percent of percents) {
    const chance = chanceOf(seed).fork(`scout-${percent}`);
    const shown: Substance[] = substances.map((s) => ({
      id: s.name,
      rf: rfOf(s, percent / 100),
      load: s.amount,
      peak: null,
      response,
    }));
    const alone = substances.map((s, i) => ({
      label: s.name,
      fraction: null,
      amounts: substances.map((_, j) => (i === j ? 1 : 0)),
      residue: 0,
    }));
    const crude = { label: "crude", fraction: null, amounts: substances.map((s) => s.amount * 2), residue: 0 };
    const plate = drawPlate(
      chance.fork("plate"),
      "p",
      [crude, ...alone],
      shown,
      drawSheet(chance.fork("sheet")),
      settings,
    );
    const file = `eluent-${percent}.jpg`;
    const photo = drawPhoto(
      chance.fork(file),
      file,
      { light: "uv254", stain: null },
      [{ index: 0, plate }],
      settings,
      900,
    );
    const recipe = {
      name: "scout",
      level: "easy" as const,
      seed,
      tubes: 1,
      volumeMl: 10,
      substances: shown,
      contents: [shown.map(() => 0)],
      plates: [plate],
      photos: [photo],
    };
    for (const { picture, quality } of renderRun(recipe))
      made.push({ file, bytes: await encodeJpeg(picture, quality) });
  }
  return made;
}
