import { LIGHTS, type Light } from "../../model/index.ts";
import { lightInWords } from "../words.ts";
import type { LightRow } from "./laneRow.ts";
import type { PlatePicture } from "./strip.ts";

/** A straightened plate under one light, and where its picture is found. */
export interface LitPlate extends PlatePicture {
  /** `ResultPlate.id`. */
  readonly plate: string;
  readonly light: Light;
  readonly stain?: string | null;
}

/** One row per light and stain, in a fixed order; a plate photographed twice under one light shows its first photo. */
export function lightRows(pictures: readonly LitPlate[]): readonly LightRow[] {
  const found = new Map<string, { row: Omit<LightRow, "pictures">; pictures: Map<string, PlatePicture> }>();
  for (const { light, stain = null, plate, href, width, height } of pictures) {
    const key = `${LIGHTS.indexOf(light)} ${stain ?? ""}`;
    const entry = found.get(key) ?? { row: { light, name: lightInWords(light, stain) }, pictures: new Map() };
    if (!entry.pictures.has(plate)) entry.pictures.set(plate, { href, width, height });
    found.set(key, entry);
  }
  const rows = [...found.entries()]
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([, e]) => ({ ...e.row, pictures: e.pictures }));
  return rows.length > 0 ? rows : [{ light: "uv254", name: "no photos kept", pictures: new Map() }];
}
