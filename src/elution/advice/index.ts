import type { Advice, FractionVerdict, PlateReading, Pool } from "../../model/index.ts";
import { expectedAmount, type TubeBelief } from "../belief.ts";
import type { Grouping } from "../grouping.ts";
import type { Loss, Weights } from "../loss.ts";
import type { TubeOdds } from "../odds.ts";
import { componentId } from "../words.ts";
import { unseenComponents } from "./lights.ts";
import { componentValue, kinshipValue, lookValue, SECOND_LOOK, type Standing, standing } from "./value.ts";

export { alarms } from "./alarms.ts";

export interface AdviceInput {
  readonly plates: readonly PlateReading[];
  readonly grouping: Grouping;
  readonly tubes: readonly TubeBelief[];
  readonly odds: readonly TubeOdds[];
  readonly fractions: readonly FractionVerdict[];
  readonly pools: readonly Pool[];
  readonly loss: Loss;
  readonly weights: Weights;
  /** [component] smallest amount that usually shows, in the light that shows it best. */
  readonly limits: readonly number[];
  /** Confidence that a posterior chance of a spotted tube's pool deserves. */
  readonly confidence: (tube: number, posterior: number) => number;
}

/** Less than this is not worth a spot; more than this many suggestions nobody follows. */
const LEAST_GAIN = 0.12;
const MOST = 8;
/** A tube surer than this is not suggested, whatever it would be worth. */
const SURE = 0.9;

/** What to do next, worth the most first; the worth of each is computed as the expected fall in the stated loss. */
export function advise(input: AdviceInput): Advice[] {
  const now = standing(input.odds, input.loss, input.weights);
  return [...tubesToSpot(input, now), ...coSpots(input, now), ...otherLights(input, now)]
    .filter((a) => a.gain >= LEAST_GAIN)
    .sort((a, b) => b.gain - a.gain || a.fractions[0] - b.fractions[0] || (a.code < b.code ? -1 : 1))
    .slice(0, MOST);
}

function tubesToSpot(input: AdviceInput, now: Standing): Advice[] {
  return input.fractions.flatMap((fraction, t) => {
    if (fraction.confidence > SURE) return [];
    const gain = lookValue(now, t);
    const likely = Math.max(...input.odds[t].clean, input.odds[t].mixed, input.odds[t].empty);
    const after = input.confidence(fraction.number, SECOND_LOOK + (1 - SECOND_LOOK) * likely);
    const decides = whatItDecides(input, t);
    const sure = `(confidence would go from ${fraction.confidence.toFixed(2)} to about ${after.toFixed(2)})`;
    const message = fraction.seen
      ? `Spot tube ${fraction.number} again, three times as strong: ${decides} ${sure}.`
      : `Spot tube ${fraction.number}, nobody has: ${decides} ${sure}.`;
    return [{ code: fraction.seen ? "spot-again" : "spot-unseen", message, fractions: [fraction.number], gain }];
  });
}

/** What a second look at tube index `t` decides, in words. */
function whatItDecides(input: AdviceInput, t: number): string {
  const odds = input.odds[t];
  const own = input.pools.find((p) => p.id === input.fractions[t].pool);
  const beside = input.pools.filter((p) => p !== own && (p.fractions.includes(t) || p.fractions.includes(t + 2)));
  if (own?.kind === "clean" && own.fractions.length > 1) {
    return odds.empty > odds.mixed
      ? `it decides whether it is worth keeping in pool ${own.id}`
      : `it decides whether it may stay in pool ${own.id}`;
  }
  const clean = beside.find((p) => p.kind === "clean");
  if (clean) return `it decides whether it joins pool ${clean.id}`;
  return own?.kind === "empty" ? "it decides whether it holds anything" : "it decides whether it is clean";
}

function coSpots(input: AdviceInput, now: Standing): Advice[] {
  return input.grouping.oneWithNext.flatMap((one, k) => {
    if (one < 0.02) return [];
    const a = strongest(input.tubes, k);
    const b = strongest(input.tubes, k + 1);
    if (a === null || b === null || a === b) return [];
    const names = `${componentId(k)} and ${componentId(k + 1)}`;
    return [
      {
        code: "co-spot",
        message: `Co-spot tube ${a} with tube ${b}: one spot or two tells whether ${names} are one substance.`,
        fractions: [a, b],
        gain: kinshipValue(now, input.tubes, k, one),
      },
    ];
  });
}

/** Number of the tube that shows most of component `k` alone, or null. */
function strongest(tubes: readonly TubeBelief[], k: number): number | null {
  let best: number | null = null;
  let most = 0;
  for (const tube of tubes) {
    const b = tube.components[k];
    if (!tube.seen || b.chance < 0.7) continue;
    const amount = expectedAmount(b);
    if (amount > most) {
      most = amount;
      best = tube.number;
    }
  }
  return best;
}

function otherLights(input: AdviceInput, now: Standing): Advice[] {
  return unseenComponents(input.plates, input.grouping).map(({ plate, component, shownBy, taken }) => {
    const lanes = input.plates[plate].lanes.flatMap((l) => (l.fraction === null ? [] : [l.fraction]));
    const tubes = [...new Set(lanes)].filter((n) => n >= 1 && n <= input.tubes.length).sort((a, b) => a - b);
    const how = shownBy === "white" ? "Stain" : `Photograph under ${shownBy === "uv254" ? "254 nm" : "365 nm"}`;
    return {
      code: "other-light",
      message: `${how} plate ${input.plates[plate].id}: ${taken} cannot show component ${componentId(component)}.`,
      fractions: tubes,
      gain: componentValue(
        now,
        input.tubes,
        tubes.map((n) => n - 1),
        component,
        input.limits[component],
      ),
    };
  });
}
