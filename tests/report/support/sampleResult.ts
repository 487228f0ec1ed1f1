import { seededRandom } from "../../../src/math/random.ts";
import type { Light, Result } from "../../../src/model/index.ts";
import { corners, plate } from "./samplePlates.ts";
import { SUBSTANCES } from "./sampleSubstances.ts";
import { fraction, policies, poolsOf, profile } from "./sampleTubes.ts";

/**
 * A run of our own: 4-methoxychalcone from 4-methoxybenzaldehyde and acetophenone, column in tubes of 10 mL.
 * All figures are invented. A: acetophenone, B: the aldehyde, C: the chalcone, D: a slow by-product.
 */
export interface SampleOptions {
  readonly tubes: number;
  /** Every how many tubes are spotted. */
  readonly every: number;
  readonly lanesPerPlate: number;
  readonly seed: number;
}

export function sampleResult(options: Partial<SampleOptions> = {}): Result {
  const { tubes, every, lanesPerPlate, seed } = { tubes: 24, every: 1, lanesPerPlate: 8, seed: 7, ...options };
  const uniform = seededRandom(seed);
  const skipped = new Set([2, 22, 23]);
  const numbers = Array.from({ length: tubes }, (_, i) => i + 1);
  const spotted = numbers.filter((n) => (every === 1 ? !skipped.has(n) : n % every === 1));
  const perPlate = lanesPerPlate - 1;
  const plates = Array.from({ length: Math.ceil(spotted.length / perPlate) }, (_, i) =>
    plate(i, spotted.slice(i * perPlate, (i + 1) * perPlate), tubes, uniform),
  );
  const fractions = numbers.map((n) => fraction(n, tubes, spotted.includes(n)));
  const pools = poolsOf(fractions);
  const placed = fractions.map((f) => ({ ...f, pool: pools.find((p) => p.fractions.includes(f.number))?.id ?? null }));
  return {
    schema: "platepool.result/1",
    run: "chalcone-3 column",
    photos: [
      ...plates.flatMap((p, i) => p.photos.map((file, k) => photo(file, k === 0 ? "uv254" : "white", p.id, i))),
      {
        file: "bench.jpg",
        status: "rejected" as const,
        reason: "no plate in it; take the plate from above, so that it fills most of the picture",
        light: "white" as const,
        plate: null,
        plates: [],
        width: 4000,
        height: 3000,
        quality: null,
        corners: [],
      },
    ],
    plates,
    components: SUBSTANCES.map((s) => {
      const shown = placed.filter((f) => (f.composition[s.id] ?? 0) > 0.02).map((f) => f.number);
      return {
        id: s.id,
        rf: s.rf,
        rf_sd: 0.004,
        first: shown[0] ?? null,
        last: shown.at(-1) ?? null,
        in_reference: true,
      };
    }),
    fractions: placed,
    pools,
    profiles: SUBSTANCES.map((s) => profile(s, numbers, tubes, spotted, uniform)),
    policies: policies(pools),
    advice: [
      {
        code: "spot-unseen",
        message: "Spot tube 2: nobody has, and it may already hold the front of A.",
        fractions: [2],
        gain: 0.61,
      },
      {
        code: "respot",
        message:
          "Spot tube 10 again, three times as strong: it decides where pool 5 begins (confidence would go from 0.71 to about 0.95).",
        fractions: [10],
        gain: 0.44,
      },
      {
        code: "co-spot",
        message: "Co-spot 8 with 11 on one point: it tells whether their spots are one substance.",
        fractions: [8, 11],
        gain: 0.2,
      },
    ],
    warnings: [
      {
        code: "front-assumed",
        message:
          "The solvent front of plate 3 was not found; it was put where the layer ends. Mark it in pencil before the plate dries.",
        photo: "p3-254.jpg",
        fraction: null,
      },
      {
        code: "blurred",
        message: "Slightly blurred: rest the phone on a stand, and tap on the plate to focus.",
        photo: "p2-stain.jpg",
        fraction: null,
      },
      {
        code: "last-tube",
        message: "Still holds D: the component may not have come off the column completely.",
        photo: null,
        fraction: tubes,
      },
    ],
  };
}

function photo(file: string, light: Light, plateId: string, i: number): Result["photos"][number] {
  const quality = { blur_px: 2.1, clipped: [0, 0.4, 0] as const, evenness: 0.8, plate_px: 1950, cut_off: false };
  return {
    file,
    status: "read",
    reason: null,
    light,
    plate: plateId,
    plates: [plateId],
    width: 3000,
    height: 4000,
    quality: {
      ...quality,
      advice: i === 1 && light === "white" ? "A little blurred: rest the phone on a stand." : null,
    },
    corners: [corners(i)],
  };
}
