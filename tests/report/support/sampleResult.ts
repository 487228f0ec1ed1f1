import { normalDeviate, seededRandom } from "../../../src/math/random.ts";
import type {
  ElutionProfile,
  Light,
  Quad,
  Result,
  ResultFraction,
  ResultLane,
  ResultPlate,
  ResultPool,
  ResultSpot,
} from "../../../src/model/index.ts";

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

const SUBSTANCES = [
  { id: "A", rf: 0.71, centre: 0.17, width: 0.06, load: 0.5, uv: 1, stain: 0.15 },
  { id: "B", rf: 0.56, centre: 0.33, width: 0.055, load: 0.8, uv: 0.9, stain: 0.8 },
  { id: "C", rf: 0.44, centre: 0.55, width: 0.085, load: 2.4, uv: 1.2, stain: 0.7 },
  { id: "D", rf: 0.12, centre: 0.86, width: 0.06, load: 0.25, uv: 0.25, stain: 1 },
] as const;

/** Amount of a substance in a tube, a tailed hump over the run. */
function amountAt(substance: (typeof SUBSTANCES)[number], tube: number, tubes: number): number {
  const t = tube / tubes - substance.centre;
  const w = t < 0 ? substance.width * 0.75 : substance.width * 1.3;
  return substance.load * Math.exp(-0.5 * (t / w) ** 2);
}

const LIMIT = 0.02;

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

/** Corners of a plate in the sample's photos of 3000 x 4000 pixels: each a trapezoid of its own. */
function corners(i: number): Quad {
  const shift = 60 * (i % 3);
  return [
    [520 + shift, 610],
    [2420 + shift, 560 + shift],
    [2580 - shift, 3320],
    [380 + shift, 3390 - shift],
  ];
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

function plate(i: number, tubeNumbers: readonly number[], tubes: number, uniform: () => number): ResultPlate {
  const origin = { y: 0.88, source: "found" as const, tilt: 0.012 * (i - 1), bow: 0 };
  const front = {
    y: 0.11,
    source: i === 2 ? ("assumed" as const) : ("found" as const),
    tilt: 0.03 * (1 - i),
    bow: 0.022,
  };
  const count = tubeNumbers.length + 1;
  const drift = [0.02, -0.03, 0.015][i % 3];
  const lanes = Array.from({ length: count }, (_, k): ResultLane => {
    const fractionNumber = k === 0 ? null : tubeNumbers[k - 1];
    const x = 0.09 + (0.82 * k) / Math.max(7, count - 1);
    const bare = {
      index: k + 1,
      label: fractionNumber === null ? "crude" : String(fractionNumber),
      fraction: fractionNumber,
      x,
      drift,
    };
    return { ...bare, spots: [...spots(bare, origin, front, tubes, uniform), ...speck(bare, origin, front)] };
  });
  return {
    id: `p${i + 1}`,
    photos: [`p${i + 1}-254.jpg`, `p${i + 1}-stain.jpg`],
    corners: corners(i),
    aspect: 1.42,
    origin,
    front,
    lanes,
  };
}

function spots(
  lane: Omit<ResultLane, "spots">,
  origin: ResultPlate["origin"],
  front: ResultPlate["front"],
  tubes: number,
  uniform: () => number,
): ResultSpot[] {
  const across = 2 * lane.x - 1;
  const y0 = origin.y + origin.tilt * (lane.x - 0.5);
  const yf = front.y + front.tilt * (lane.x - 0.5) + front.bow * across * across;
  return SUBSTANCES.flatMap((s): ResultSpot[] => {
    const amount = lane.fraction === null ? s.load * 0.35 : amountAt(s, lane.fraction, tubes);
    if (amount < LIMIT) return [];
    const rf = s.rf + 0.004 * normalDeviate(uniform);
    const y = y0 - rf * (y0 - yf);
    const lights: Light[] = s.id === "A" ? ["uv254"] : s.id === "D" && amount < 0.1 ? ["white"] : ["uv254", "white"];
    return [
      {
        rf,
        rf_sd: 0.006,
        amount,
        amount_sd: 0.05 * amount + 0.01,
        component: s.id,
        confidence: amount > 0.08 ? 0.99 : 0.72,
        flags: amount > 2 ? ["overloaded"] : [],
        lights,
        x: lane.x + lane.drift * (y0 - y),
        y,
        width_rf: 0.035 + 0.012 * Math.sqrt(amount),
        width_x: 0.045 + 0.012 * Math.sqrt(amount),
        tailing: 1.2,
      },
    ];
  });
}

/** A speck of dust in one lane: a doubtful spot that belongs to no component. */
function speck(
  lane: Omit<ResultLane, "spots">,
  origin: ResultPlate["origin"],
  front: ResultPlate["front"],
): ResultSpot[] {
  if (lane.fraction !== 14) return [];
  const across = 2 * lane.x - 1;
  const y0 = origin.y + origin.tilt * (lane.x - 0.5);
  const y = y0 - 0.87 * (y0 - (front.y + front.tilt * (lane.x - 0.5) + front.bow * across * across));
  const size = { width_rf: 0.02, width_x: 0.02, tailing: 1 };
  const lights: Light[] = ["uv254"];
  return [
    {
      rf: 0.87,
      rf_sd: 0.01,
      amount: 0.05,
      amount_sd: 0.03,
      component: null,
      confidence: 0.35,
      flags: [],
      lights,
      x: lane.x + lane.drift * (y0 - y),
      y,
      ...size,
    },
  ];
}

function fraction(n: number, tubes: number, seen: boolean): ResultFraction {
  const amounts = SUBSTANCES.map((s) => ({ id: s.id, amount: amountAt(s, n, tubes) })).filter((a) => a.amount >= LIMIT);
  const total = amounts.reduce((sum, a) => sum + a.amount, 0);
  const composition = Object.fromEntries(amounts.map((a) => [a.id, a.amount / total]));
  const main = Math.max(0, ...Object.values(composition));
  const state = amounts.length === 0 ? "empty" : main >= 0.95 ? "clean" : "mixed";
  const near = state !== "empty" && Math.abs(main - 0.95) < 0.03;
  const confidence = (near ? 0.71 : state === "empty" ? 0.97 : 0.96) - (seen ? 0 : 0.2);
  const reason = !seen
    ? "Nobody spotted it; its neighbours suggest this."
    : near
      ? `The second spot is close to the 95 % line (plate lane of tube ${n}).`
      : null;
  return { number: n, seen, composition, state, odds: oddsFor(state, confidence), pool: null, confidence, reason };
}

function oddsFor(state: ResultFraction["state"], p: number): ResultFraction["odds"] {
  const rest = (1 - p) / 2;
  return { clean: rest, mixed: rest, empty: rest, [state]: p };
}

function poolsOf(fractions: readonly ResultFraction[]): ResultPool[] {
  const heldBy = (f: ResultFraction) =>
    f.state === "clean"
      ? [Object.entries(f.composition).sort((a, b) => b[1] - a[1])[0][0]]
      : f.state === "mixed"
        ? Object.keys(f.composition)
        : [];
  const pools: { -readonly [K in keyof ResultPool]: ResultPool[K] }[] = [];
  let lastHeld = "";
  for (const f of fractions) {
    const held = f.state === "mixed" ? "mixed" : heldBy(f).join();
    const last = pools.at(-1);
    if (last && last.kind === f.state && lastHeld === held) {
      last.fractions = [...last.fractions, f.number];
      last.components = [...new Set([...last.components, ...heldBy(f)])].sort();
      last.volume_ml = last.fractions.length * 10;
      last.confidence = Math.min(last.confidence, f.confidence);
    } else {
      const main = Math.max(0, ...Object.values(f.composition));
      const spread = (1 - main) / 2 + 0.008;
      pools.push({
        id: String(pools.length + 1),
        fractions: [f.number],
        kind: f.state,
        components: heldBy(f),
        purity: { low: Math.max(0, main - spread), mid: main, high: Math.min(1, main + spread) },
        confidence: f.confidence,
        volume_ml: 10,
        reason:
          f.state === "empty"
            ? "No spot under either light."
            : f.state === "clean"
              ? `Only ${heldBy(f)[0]} shows in these lanes; anything else would be below 5 %.`
              : "Two or more components share these lanes; run them again.",
      });
    }
    lastHeld = held;
  }
  return pools;
}

function profile(
  s: (typeof SUBSTANCES)[number],
  numbers: readonly number[],
  tubes: number,
  spotted: readonly number[],
  uniform: () => number,
): ElutionProfile {
  const points = numbers.map((n) => {
    const amount = amountAt(s, n, tubes);
    const seen = spotted.includes(n);
    const sd = (0.07 * amount + 0.012) * (seen ? 1 : 2.2);
    return {
      fraction: n,
      amount: amount < 0.002 ? 0 : amount,
      sd,
      measured: seen ? Math.max(0, amount + sd * normalDeviate(uniform)) : null,
    };
  });
  return { component: s.id, points, fitted: true };
}

function policies(pools: readonly ResultPool[]): Result["policies"] {
  const held = pools.map((p) => ({ fractions: p.fractions, kind: p.kind }));
  return [
    {
      policy: "purity",
      pools: held.filter((p) => p.fractions.length > 1),
      purity: { low: 0.975, mid: 0.991, high: 0.997 },
      recovery: { low: 0.74, mid: 0.81, high: 0.87 },
    },
    {
      policy: "balance",
      pools: held,
      purity: { low: 0.961, mid: 0.983, high: 0.992 },
      recovery: { low: 0.84, mid: 0.89, high: 0.93 },
    },
    {
      policy: "recovery",
      pools: held,
      purity: { low: 0.9, mid: 0.94, high: 0.96 },
      recovery: { low: 0.94, mid: 0.97, high: 0.99 },
    },
  ];
}
