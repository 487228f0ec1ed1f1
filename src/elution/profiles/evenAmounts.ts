import { upperMedian } from "../../math/median.ts";
import type { Light, PlateReading, SpotResponse } from "../../model/index.ts";

/** What area is to height is learnt from spots this clear, and so weak that the layer answers in proportion. */
const CLEAR_CNR = 8;
const STRAIGHT_PEAK = 0.4;
/** Marks on the start line are no spots to learn from. */
const OFF_ORIGIN = 0.03;
/** A photo goes by its own clear spots, and by those of all photos of its light as if it had so many more. */
const OTHERS = 3;
/** ln of area over height where no spot of a light is clear enough to tell. */
const USUAL_RATIO = 3.1;
/**
 * Relative error of the amount that a spot's area tells, and of the one that its height tells: of the clearest spots, and
 * per contrast-to-noise of 1; a height that the layer bends is the worse. On photos of three renderers amounts by area
 * are off by 0.7 at a contrast-to-noise of 5 and 0.3 at 20, by height 0.35 and 0.15.
 */
const BY_AREA = { clear: 0.4, perNoise: 2.5 };
const BY_HEIGHT = { clear: 0.12, perNoise: 1.3, perBend: 0.5 };

/** ln of area over height: of each light, and of each photo, [plate][photo]. */
interface Ratios {
  readonly ofLight: ReadonlyMap<Light, number>;
  readonly ofPhoto: readonly (readonly number[])[];
}

/**
 * Plates with amounts and limits that can be compared from plate to plate and from weak to strong. An area counts in
 * widths of its own plate, and the area of a weak spot is mostly that of its ground; a height is neither. So areas are
 * scaled photo by photo, by what area is to height there, and amounts taken from area and height together, each by its
 * error. Everything but `amount`, `amountSd` and `detectionLimit` stays.
 */
export function evenAmounts(plates: readonly PlateReading[]): PlateReading[] {
  const { ofLight, ofPhoto } = ratios(plates);
  return plates.map((plate, p) => {
    const usual = plate.photos.map(({ light }) => ofLight.get(light)!);
    const scale = usual.map((log, i) => Math.exp(log - ofPhoto[p][i]));
    const even = (response: SpotResponse): SpotResponse => {
      const { photo, amount, amountSd } = response;
      const area = Math.abs(amount) * scale[photo];
      const together = amountOf(response, area, usual[photo]);
      return {
        ...response,
        amount: together,
        amountSd: area > 0 ? amountSd * (together / Math.abs(amount)) : amountSd,
      };
    };
    const lanes = plate.lanes.map((lane) => ({
      ...lane,
      spots: lane.spots.map((spot) => ({ ...spot, responses: spot.responses.map(even) })),
      detectionLimit: lane.detectionLimit.map((limit, i) => limit * scale[i]),
    }));
    return { ...plate, lanes };
  });
}

/** Amount by area and by height, a mean of logs; the area alone where there is no height. */
function amountOf(response: SpotResponse, area: number, logRatio: number): number {
  const height = heightOf(response);
  if (!(area > 0) || height === null) return area;
  const noise = 1 / Math.max(0.1, response.contrastToNoise);
  const bend = BY_HEIGHT.perBend * Math.max(0, Math.abs(response.peak) / STRAIGHT_PEAK - 1);
  const ofArea = 1 / (BY_AREA.clear ** 2 + (BY_AREA.perNoise * noise) ** 2);
  const ofHeight = 1 / (BY_HEIGHT.clear ** 2 + (BY_HEIGHT.perNoise * noise) ** 2 + bend ** 2);
  return Math.exp((ofArea * Math.log(area) + ofHeight * (Math.log(height) + logRatio)) / (ofArea + ofHeight));
}

/** Height of a spot: mean (of logs) of its peak in the mix of channels that is read and in the strongest colour; null where it has none. */
function heightOf({ peak, colour }: SpotResponse): number | null {
  const strongest = Math.max(...colour.map(Math.abs));
  return Math.abs(peak) > 1e-5 && strongest > 1e-5 ? Math.sqrt(Math.abs(peak) * strongest) : null;
}

function ratios(plates: readonly PlateReading[]): Ratios {
  const own = plates.map((plate) =>
    plate.photos.map((_, i) =>
      plate.lanes.flatMap(({ spots }) => spots.flatMap((s) => (s.rf > OFF_ORIGIN ? ratio(s.responses, i) : []))),
    ),
  );
  const ofLight = new Map<Light, number>();
  for (const light of new Set(plates.flatMap((p) => p.photos.map((f) => f.light)))) {
    const all = plates.flatMap((plate, p) => plate.photos.flatMap((f, i) => (f.light === light ? own[p][i] : [])));
    ofLight.set(light, all.length > 0 ? upperMedian(all) : USUAL_RATIO);
  }
  const ofPhoto = plates.map((plate, p) =>
    plate.photos.map(({ light }, i) => {
      const n = own[p][i].length;
      const usual = ofLight.get(light)!;
      return n > 0 ? (n * upperMedian(own[p][i]) + OTHERS * usual) / (n + OTHERS) : usual;
    }),
  );
  return { ofLight, ofPhoto };
}

/** ln of area over height of a spot in one photo, in a list; empty where the spot does not tell. */
function ratio(responses: readonly SpotResponse[], photo: number): number[] {
  const own = responses.find((r) => r.photo === photo);
  if (!own || !(own.contrastToNoise > CLEAR_CNR) || Math.abs(own.peak) >= STRAIGHT_PEAK || own.amount === 0) return [];
  const height = heightOf(own);
  return height === null ? [] : [Math.log(Math.abs(own.amount) / height)];
}
