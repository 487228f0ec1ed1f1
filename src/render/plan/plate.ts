import type { Chance } from "../chance.ts";
import type { LevelSettings } from "../levels.ts";
import { crossLineAt, type LaneRecipe, type PlateRecipe, type SpotRecipe, type Substance } from "../recipe.ts";
import { drawLayer, type Sheet } from "./layer.ts";
import { drawPencil } from "./marks.ts";
import { drawRings } from "./rings.ts";

/** What one lane carries: its label and the amount of each substance brought onto the origin. */
export interface LaneLoad {
  readonly label: string;
  readonly fraction: number | null;
  readonly amounts: readonly number[];
  /** What stays at the origin. */
  readonly residue: number;
}

/** Amounts below this leave no trace under any light: not drawn, not in the truth. */
const NOTHING = 0.002;

interface PlateHabits {
  /** Rf on this plate = rf + stretch rf (1 - rf) + scale rf. */
  readonly stretch: number;
  readonly scale: number;
  readonly driftX: number;
  readonly spotSize: number;
  readonly spread: number;
  readonly edgeLead: number;
  readonly tail: number;
}

function drawSpot(
  chance: Chance,
  substance: Substance | null,
  amount: number,
  lane: Pick<LaneRecipe, "x" | "originY" | "frontY">,
  habits: PlateHabits,
  settings: LevelSettings,
  edge: number,
  lean: number,
): SpotRecipe {
  const base = substance?.rf ?? 0;
  const stretched = base + habits.stretch * base * (1 - base) + habits.scale * base;
  const rf = substance
    ? Math.min(
        0.96,
        Math.max(0.02, stretched * (1 + habits.edgeLead * edge * edge) + chance.normal(0, settings.rfJitter)),
      )
    : 0;
  const way = rf * (lane.originY - lane.frontY);
  const load = Math.max(0, Math.log10(amount / 0.8 + 1e-9));
  const wide = habits.spotSize * (1 + 0.35 * load);
  const sigma = wide * (0.62 + habits.spread * rf) * Math.exp(chance.normal(0, 0.08));
  const streak = substance !== null && chance.happens(settings.streaks);
  return {
    substance: substance?.id ?? null,
    amount,
    rf,
    x: lane.x + lean * way + chance.normal(0, 0.08),
    y: lane.originY - way,
    sigmaX: wide * (0.85 + 0.25 * rf) * Math.exp(chance.normal(0, 0.07)),
    sigmaUp: sigma,
    sigmaDown: sigma * (1 + Math.abs(chance.normal(0, 0.12)) + 0.35 * load),
    tail: streak ? chance.uniform(0.2, 0.5) : habits.tail * chance.uniform(0.3, 1),
    tailLength: Math.min(way * 0.6, streak ? chance.uniform(3, 9) : chance.uniform(0.8, 2)),
    bend: chance.happens(settings.crescents) || load > 0.35 ? chance.normal(0.05, 0.08) : chance.normal(0, 0.01),
    lean,
  };
}

/** Draws one plate with its lanes, marks and layer. */
export function drawPlate(
  chance: Chance,
  id: string,
  loads: readonly LaneLoad[],
  substances: readonly Substance[],
  sheet: Sheet,
  settings: LevelSettings,
): PlateRecipe {
  const n = loads.length;
  const pitch = n <= 6 ? chance.uniform(6, 10) : n <= 12 ? chance.uniform(5, 7.5) : chance.uniform(4.6, 6);
  const margin = chance.uniform(5.5, 11);
  const width = pitch * (n - 1) + 2 * margin;
  const height = Math.max(chance.uniform(48, 90), 0.55 * width);
  const originMark = chance.weighted(settings.originMark);
  const frontMark = chance.weighted(settings.frontMark);
  const origin = {
    y: height - chance.uniform(7.5, 13),
    tilt: chance.normal(0, settings.frontTilt * 0.25) * height,
    bow: 0,
  };
  const front = {
    y: frontMark === "off" ? 0 : chance.uniform(3.5, 13),
    tilt: frontMark === "off" ? 0 : chance.normal(0, settings.frontTilt) * height,
    bow: frontMark === "off" ? 0 : chance.normal(0, settings.frontBow) * height,
  };
  if (frontMark === "line") front.bow *= 0.3;
  const low = 1.2 + Math.abs(front.tilt) / 2 + Math.max(0, -front.bow);
  if (frontMark !== "off") front.y = Math.max(front.y, low);
  const habits: PlateHabits = {
    stretch: chance.normal(0, settings.rfStretch * 2),
    scale: chance.normal(0, settings.rfStretch),
    driftX: chance.normal(0, settings.drift),
    spotSize: Math.min(chance.uniform(0.85, 1.35), pitch * 0.24),
    spread: chance.uniform(0.15, 0.6),
    edgeLead: chance.normal(0, settings.edgeLead),
    tail: chance.uniform(0, 0.14),
  };
  const lanes = loads.map((load, i): LaneRecipe => {
    const x = margin + pitch * (i + chance.normal(0, settings.laneJitter));
    const u = x / width;
    const lane = {
      index: i + 1,
      label: load.label,
      fraction: load.fraction,
      x,
      originY: crossLineAt(origin, u) + (originMark === "line" ? chance.normal(0, 0.08) : chance.normal(0, 0.2)),
      frontY: crossLineAt(front, u),
    };
    const lean = habits.driftX + chance.normal(0, settings.drift * 0.35);
    const spot = (substance: Substance | null, amount: number) =>
      drawSpot(chance, substance, amount, lane, habits, settings, 2 * u - 1, lean);
    const spots = load.amounts.flatMap((amount, s) => (amount > NOTHING ? [spot(substances[s], amount)] : []));
    if (load.residue > NOTHING) spots.push(spot(null, load.residue));
    return { ...lane, spots };
  });
  const bare = { id, width, height, origin, front, originMark, frontMark, lanes };
  return {
    ...bare,
    pencil: [...drawPencil(chance.fork("pencil"), bare, settings), ...drawRings(chance.fork("rings"), lanes, settings)],
    layer: drawLayer(chance.fork("layer"), bare, sheet, settings),
  };
}
