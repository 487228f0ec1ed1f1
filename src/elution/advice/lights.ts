import type { Light, PlateReading } from "../../model/index.ts";
import type { Grouping } from "../grouping.ts";

/** A component that the photos of a plate can hardly show, while another light, used on other plates, does. */
export interface UnseenComponent {
  /** Index of the plate. */
  readonly plate: number;
  readonly component: number;
  readonly shownBy: Light;
  /** What the plate has, in words. */
  readonly taken: string;
}

const WORDS: Readonly<Record<Light, string>> = {
  uv254: "the 254 nm photo",
  uv365: "the 365 nm photo",
  white: "the stained photo",
};
/** A light shows a component where most of its spots reach this contrast-to-noise, and cannot where few do. */
const SHOWN = 6;
const MOSTLY = 0.6;
const HARDLY = 0.2;

export function unseenComponents(plates: readonly PlateReading[], grouping: Grouping): UnseenComponent[] {
  const lights = [...new Set(plates.flatMap((p) => p.photos.map((f) => f.light)))].sort();
  if (lights.length < 2) return [];
  const share = grouping.rf.map((_, k) => lights.map((light) => shownShare(plates, grouping, k, light)));
  return plates.flatMap((plate, p) => {
    const own = [...new Set(plate.photos.map((f) => f.light))];
    const missing = lights.filter((l) => !own.includes(l));
    if (missing.length === 0 || own.length === 0) return [];
    return share.flatMap((row, component) => {
      if (own.some((l) => row[lights.indexOf(l)] > HARDLY)) return [];
      const shownBy = missing.find((l) => row[lights.indexOf(l)] >= MOSTLY);
      return shownBy ? [{ plate: p, component, shownBy, taken: own.map((l) => WORDS[l]).join(" and ") }] : [];
    });
  });
}

/** Share of a component's spots that show under a light, on plates photographed under several; 0.5 where none are. */
function shownShare(plates: readonly PlateReading[], grouping: Grouping, k: number, light: Light): number {
  let shown = 0;
  let all = 0;
  for (const lane of grouping.lanes) {
    const spots = plates[lane.plate].lanes.find((l) => l.index === lane.ref.lane)?.spots ?? [];
    for (const meaning of lane.spots) {
      if (meaning.alone[k] < 0.5) continue;
      const responses = spots[meaning.spot].responses;
      if (responses.length < 2) continue;
      const own = responses.find((r) => r.light === light);
      if (!own) continue;
      all++;
      if (own.contrastToNoise >= SHOWN) shown++;
    }
  }
  return all > 0 ? shown / all : 0.5;
}
