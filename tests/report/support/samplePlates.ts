import { normalDeviate } from "../../../src/math/random.ts";
import type { Light, Quad, ResultLane, ResultPlate, ResultSpot } from "../../../src/model/index.ts";
import { amountAt, LIMIT, SUBSTANCES } from "./sampleSubstances.ts";

/** Corners of a plate in the sample's photos of 3000 x 4000 pixels: each a trapezoid of its own. */
export function corners(i: number): Quad {
  const shift = 60 * (i % 3);
  return [
    [520 + shift, 610],
    [2420 + shift, 560 + shift],
    [2580 - shift, 3320],
    [380 + shift, 3390 - shift],
  ];
}

export function plate(i: number, tubeNumbers: readonly number[], tubes: number, uniform: () => number): ResultPlate {
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
