import type { Chance } from "../chance.ts";
import type { LevelSettings } from "../levels.ts";
import type { LaneRecipe, SpotRecipe, Stroke } from "../recipe.ts";

/** Nobody rings what a lamp hardly shows, nor what stayed on the start line. */
const RINGED = { amount: 0.12, rf: 0.06 };
const POINTS = 22;

/** Rings that somebody drew round spots seen under the lamp: on some plates round nearly all, on others round a few. */
export function drawRings(chance: Chance, lanes: readonly LaneRecipe[], settings: LevelSettings): Stroke[] {
  if (!chance.happens(settings.rings)) return [];
  const share = chance.happens(0.5) ? chance.uniform(0.7, 1) : chance.uniform(0.1, 0.5);
  const hand = { room: chance.uniform(1.9, 3), width: chance.uniform(0.22, 0.45), density: chance.uniform(0.18, 0.5) };
  return lanes.flatMap(({ spots }) =>
    spots
      .filter((s) => s.amount > RINGED.amount && s.rf > RINGED.rf && chance.happens(share))
      .map((s) => ringRound(chance, s, hand)),
  );
}

/** One turn of the hand, not quite round and not quite closed or drawn a little over its start. */
function ringRound(
  chance: Chance,
  spot: SpotRecipe,
  hand: { readonly room: number; readonly width: number; readonly density: number },
): Stroke {
  const room = hand.room * Math.exp(chance.normal(0, 0.1));
  const rx = room * spot.sigmaX + 0.2;
  const ry = (room * (spot.sigmaUp + spot.sigmaDown)) / 2 + 0.2;
  const x = spot.x + chance.normal(0, 0.12 * rx);
  const y = spot.y + (spot.sigmaDown - spot.sigmaUp) / 2 + chance.normal(0, 0.12 * ry);
  const start = chance.uniform(0, 2 * Math.PI);
  const turn = 2 * Math.PI + chance.normal(0, 0.25);
  const [uneven, phase, drift] = [chance.normal(0, 0.06), chance.uniform(0, 6), chance.normal(0, 0.05)];
  const points = Array.from({ length: POINTS }, (_, i): readonly [number, number] => {
    const along = i / (POINTS - 1);
    const angle = start + turn * along;
    const out = 1 + uneven * Math.sin(2 * angle + phase) + drift * (along - 0.5);
    return [x + rx * out * Math.cos(angle), y + ry * out * Math.sin(angle)];
  });
  return { points, width: hand.width * Math.exp(chance.normal(0, 0.1)), density: hand.density };
}
