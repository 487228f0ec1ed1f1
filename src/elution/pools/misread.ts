import { upperMedian } from "../../math/median.ts";
import type { PlateReading } from "../../model/index.ts";
import type { Grouping } from "../grouping.ts";
import type { ReadingSigns } from "./calibrationMap.ts";

/** Marks on the start line are doubtful on nearly every plate and say nothing of how it was read. */
const OFF_ORIGIN = 0.03;
/** Usual doubt, and ln of the usual contrast-to-noise, where no plate of the run has a spot. */
const NO_SPOTS = { doubt: 0.05, logClear: 3 };
/** ln of the contrast-to-noise of a spot that nobody overlooks. */
const LOG_PLAIN = Math.log(150);
/** Of a good photo of clear spots. */
const GOOD_LOOK = { blur: 1.1, faintness: 1 };

/**
 * How each plate may give away that it was misread.
 * @param scatter of amounts about their peaks, log scale, the largest of the components
 */
export function readingSigns(plates: readonly PlateReading[], grouping: Grouping, scatter: number): ReadingSigns[] {
  const doubts = plates.map((plate) =>
    plate.lanes.flatMap((lane) => lane.spots.filter((s) => s.rf > OFF_ORIGIN).map((s) => 1 - s.confidence)),
  );
  // A plate without spots is as doubtful as the others of its run.
  const usual = mean(
    doubts.filter((d) => d.length > 0).map((d) => mean(d, 0)),
    NO_SPOTS.doubt,
  );
  const clear = plates.map(logClearOf);
  const usualClear = mean(
    clear.filter((c) => c !== null),
    NO_SPOTS.logClear,
  );
  return plates.map((plate, p) => {
    const loose = grouping.lanes
      .filter((lane) => lane.plate === p)
      .flatMap((lane) => lane.spots.map((s) => Math.max(0, 1 - sum(s.alone) - sum(s.joint) - sum(s.elsewhere))));
    return {
      scatter,
      doubt: mean(doubts[p], usual),
      unexplained: mean(loose, 0),
      blur: mean(
        plate.photos.map(({ quality: q }) => Math.log(Math.max(0.1, (1000 * q.blurPx) / Math.max(1, q.platePx)))),
        0,
      ),
      faintness: LOG_PLAIN - (clear[p] ?? usualClear),
      linesWrong: 1 - plate.linesSure,
    };
  });
}

/** The signs as if the photos were good: what is left speaks of lanes or spots taken for others, not of a poor look. */
export function onGoodPhotos(signs: ReadingSigns): ReadingSigns {
  return { ...signs, ...GOOD_LOOK };
}

/**
 * The signs of the plates that show each tube (index 0: tube 1), their mean; where nobody spotted it, of those that show
 * the nearest spotted tubes on both sides, from which it is inferred.
 */
export function tubeSignsOf(signs: readonly ReadingSigns[], grouping: Grouping, tubes: number): ReadingSigns[] {
  const plates = Array.from({ length: tubes }, () => new Set<number>());
  for (const { tube, plate } of grouping.lanes) if (tube !== null && tube >= 1) plates[tube - 1]?.add(plate);
  const nearest = (t: number, step: number): Iterable<number> => {
    for (let i = t + step; i >= 0 && i < tubes; i += step) if (plates[i].size > 0) return plates[i];
    return [];
  };
  return plates.map((own, t) => {
    const showing = own.size > 0 ? own : new Set([...nearest(t, -1), ...nearest(t, 1)]);
    const mine = [...showing].map((p) => signs[p]);
    const of = (value: (s: ReadingSigns) => number) => mean(mine.map(value), 0);
    return {
      scatter: of((s) => s.scatter),
      doubt: of((s) => s.doubt),
      unexplained: of((s) => s.unexplained),
      blur: of((s) => s.blur),
      faintness: of((s) => s.faintness),
      linesWrong: of((s) => s.linesWrong),
    };
  });
}

/** ln of the median contrast-to-noise of a plate's spots, each in its best light; null where it has none. */
function logClearOf(plate: PlateReading): number | null {
  const clear = plate.lanes
    .flatMap((lane) => lane.spots.filter((s) => s.rf > OFF_ORIGIN))
    .map((s) => Math.log(Math.max(1e-3, ...s.responses.map((r) => r.contrastToNoise))));
  return clear.length > 0 ? upperMedian(clear) : null;
}

function sum(values: readonly number[]): number {
  return values.reduce((s, v) => s + v, 0);
}

function mean(values: readonly number[], otherwise: number): number {
  return values.length > 0 ? sum(values) / values.length : otherwise;
}
