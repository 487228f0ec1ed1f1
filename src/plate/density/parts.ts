import type { Plane } from "../../raster/picture.ts";
import type { Clipping } from "./clipping.ts";
import { type Learnt, learn, type Mix, mixFor } from "./mix.ts";

/** Mixes for a part of the plate in which the same channels are not clipped. */
export interface Part {
  readonly main: Mix;
  readonly counter: Mix | null;
  /** Where the part is, 0..1, in blocks: it takes the place of the parts before it there; null: everywhere. */
  readonly where: Plane | null;
}

/** Channels that show a spot at less than this part of the density of the best one are not scaled up any further. */
const LEAST_SHOWN = 0.2;
/** A block belongs to a part if so much of it does. */
const WHOLLY = 0.9;

/**
 * The best mixes, part by part: first of the whole plate with all live channels, then of where the most clipped of them is
 * clipped without it, and so on (channels clip in the order of their brightness: where the second is clipped, so is the first).
 * Each part is learnt from its own pixels, its spots and ground being what they are there; all read on the scale of the first,
 * the density of the channel in which spots show best. The counter mix, if any, is for what the main one hardly shows.
 * @param smooth the three channels, smoothed to the size of a small spot
 * @param marked same size, above 0 where pencil or dust is
 */
export function bestMixes(
  smooth: readonly Plane[],
  marked: Plane,
  live: readonly boolean[],
  clippings: readonly Clipping[],
): Part[] {
  const opens = clippings.map(({ open }) => open.data);
  const channels = [live];
  for (const { channel } of clippings) channels.push(channels.at(-1)!.map((l, c) => l && c !== channel));
  const all = channels
    .map((own, part) => {
      const within = (i: number) =>
        opens.every((open, k) => (k < part ? k < part - 1 || open[i] < 1 - WHOLLY : open[i] > WHOLLY));
      const inside = opens.length === 0 ? null : within;
      return {
        live: own,
        where: part === 0 ? null : clippings[part - 1].open,
        learnt: own.some(Boolean) ? learn(smooth, marked, own, inside) : null,
      };
    })
    .filter((part) => part.live.some(Boolean));
  const known = all.flatMap(({ learnt }) => learnt ?? []);
  const base = known[0] ?? learn(smooth, marked, live, null)!;
  const hidden = known.find((learnt) => learnt.hidden !== null)?.hidden ?? null;
  return all.map((part) => {
    const learnt = part.learnt ?? base;
    const counter = learnt.hidden ?? hidden;
    return {
      main: mixFor(learnt.covariance, learnt.spots, part.live, shownBy(base, part.live)),
      counter: counter && mixFor(learnt.covariance, counter, part.live),
      where: part.where && closed(part.where),
    };
  });
}

/** How many times denser a spot is in the best channel than in the best of the live ones. */
function shownBy({ spots, someSpots }: Learnt, live: readonly boolean[]): number {
  if (!someSpots) return 1;
  const top = Math.max(...spots.map(Math.abs));
  const best = Math.max(...spots.map((v, c) => (live[c] ? Math.abs(v) : 0)));
  return 1 / Math.max(LEAST_SHOWN, best / top);
}

function closed(open: Plane): Plane {
  return { ...open, data: open.data.map((share) => 1 - share) };
}
