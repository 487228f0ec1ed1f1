import { deepestValley } from "../../math/valley.ts";
import type { Finding } from "../../model/index.ts";
import { claimedBeside } from "../grouping.ts";
import { componentId, listed, lower, tubesInWords } from "../words.ts";
import type { AlarmInput } from "./alarmInput.ts";

/** Exchanging two tubes must take this much (log) out of the dips of all components to be worth an alarm. */
const SWAP_GAIN = 2.5;
/** Tubes without a component between its run and a stray find. */
const STRAY_GAP = 3;

/** Alarms about single tubes and lanes. */
export function tubeAlarms(input: AlarmInput): Finding[] {
  return [
    ...swapped(input),
    ...strays(input),
    ...unspottedGaps(input),
    ...emptyLanes(input),
    ...claimedTwice(input),
    ...originSpots(input),
  ];
}

/** Two neighbours that, exchanged, make every component rise and fall once. */
function swapped(input: AlarmInput): Finding[] {
  const numbers = input.tubes.filter((t) => t.seen).map((t) => t.number);
  const rows = input.measured.map((row) => {
    const most = Math.max(1e-12, ...row.map((a) => a ?? 0));
    return numbers.map((n) => Math.log((row[n - 1] ?? 0) / most + 0.02));
  });
  const dips = (swap: number) =>
    rows.reduce((sum, row) => {
      const order = [...row];
      if (swap >= 0) [order[swap], order[swap + 1]] = [row[swap + 1], row[swap]];
      return sum + deepestValley(order).depth;
    }, 0);
  const before = dips(-1);
  let best = -1;
  let gain = SWAP_GAIN;
  for (let i = 0; i + 1 < numbers.length; i++) {
    // A lane without any spot is a matter of its own (empty lane), not of order.
    if (rows.every((row) => row[i] < -3.8) || rows.every((row) => row[i + 1] < -3.8)) continue;
    const fall = before - dips(i);
    if (fall > gain) {
      gain = fall;
      best = i;
    }
  }
  if (best < 0) return [];
  const [a, b] = [numbers[best], numbers[best + 1]];
  return [
    {
      code: "tubes-swapped",
      message: `Tubes ${a} and ${b} look swapped: exchanged, every component would rise and fall once.`,
      remedy: `Check the labels of tubes ${a} and ${b} and spot both again.`,
      where: { fraction: a },
    },
  ];
}

/** One tube that shows a component well away from its run. */
function strays(input: AlarmInput): Finding[] {
  return input.measured.flatMap((row, k) => {
    const shown = row.flatMap((a, t) => (a !== null && a > 0 ? [{ a, t }] : []));
    if (shown.length < 3) return [];
    const peak = shown.reduce((x, y) => (y.a > x.a ? y : x));
    return shown.flatMap(({ a, t }, i) => {
      const left = i === 0 ? Number.POSITIVE_INFINITY : t - shown[i - 1].t;
      const right = i + 1 === shown.length ? Number.POSITIVE_INFINITY : shown[i + 1].t - t;
      const empty = (from: number, to: number) => row.slice(from + 1, to).filter((v) => v !== null).length;
      const alone =
        (t > peak.t ? empty(shown[Math.max(0, i - 1)].t, t) : empty(t, shown[Math.min(shown.length - 1, i + 1)].t)) >=
        STRAY_GAP;
      if (!alone || Math.min(left, right) <= STRAY_GAP || t === peak.t || a > 0.3 * peak.a) return [];
      return [
        {
          code: "carried-over",
          message: `${componentId(k)} shows up in tube ${t + 1}, away from its run around tube ${peak.t + 1}.`,
          remedy:
            "It may be carried over (a used capillary, a dirty tube): spot the tube again with a fresh capillary.",
          where: { fraction: t + 1 },
        },
      ];
    });
  });
}

/** Tubes nobody spotted between tubes that show the same component. */
function unspottedGaps(input: AlarmInput): Finding[] {
  const gaps = new Map<string, { numbers: number[]; components: string[] }>();
  input.measured.forEach((row, k) => {
    const shown = row.flatMap((a, t) => (a !== null && a > 0 ? [t] : []));
    for (let i = 1; i < shown.length; i++) {
      const numbers: number[] = [];
      for (let t = shown[i - 1] + 1; t < shown[i]; t++) if (row[t] === null) numbers.push(t + 1);
      if (numbers.length < 2 || numbers.length !== shown[i] - shown[i - 1] - 1) continue;
      const key = numbers.join();
      const gap = gaps.get(key) ?? { numbers, components: [] };
      gap.components.push(componentId(k));
      gaps.set(key, gap);
    }
  });
  return [...gaps.values()].map(({ numbers, components }) => ({
    code: "unspotted-gap",
    message: `Nobody spotted ${lower(tubesInWords(numbers))}, in the middle of ${listed(components)}.`,
    remedy: `Spot ${lower(tubesInWords(numbers))} before pooling.`,
    where: { fraction: numbers[0] },
  }));
}

function emptyLanes(input: AlarmInput): Finding[] {
  return input.tubes.flatMap((tube) =>
    tube.forgotten > 0.3
      ? [
          {
            code: "empty-lane",
            message: `The lane of tube ${tube.number} is empty between lanes with spots.`,
            remedy: `Perhaps it was never spotted: spot tube ${tube.number} again.`,
            where: { fraction: tube.number, plate: tube.evidence[0]?.plate, lane: tube.evidence[0]?.lane },
          },
        ]
      : [],
  );
}

/** Tubes whose spots were counted in the lane beside theirs: the lanes may have been taken to lie elsewhere than they do. */
function claimedTwice(input: AlarmInput): Finding[] {
  return input.grouping.lanes.flatMap((lane) => {
    const { tube, ref } = lane;
    if (tube === null || !claimedBeside(lane)) return [];
    return [
      {
        code: "spots-claimed-twice",
        message: `Spots in the lane of tube ${tube} on plate ${ref.plate} lie in the lane beside it as well, and are counted there.`,
        remedy: `Look where lane ${ref.lane} of plate ${ref.plate} stands; mend the lanes if they stand too near, or spot tube ${tube} again.`,
        where: { fraction: tube, plate: ref.plate, lane: ref.lane },
      },
    ];
  });
}

/** Spots on the start line of tubes: what came off the column moves on the plate, too, in the same eluent. */
function originSpots(input: AlarmInput): Finding[] {
  const numbers = new Set<number>();
  for (const plate of input.plates) {
    for (const lane of plate.lanes) {
      if (lane.fraction !== null && lane.spots.some((s) => s.flags.includes("at-origin") && s.confidence > 0.5))
        numbers.add(lane.fraction);
    }
  }
  if (numbers.size === 0) return [];
  const tubes = [...numbers].sort((a, b) => a - b);
  return [
    {
      code: "at-origin",
      message: `${tubesInWords(tubes)} ${tubes.length === 1 ? "leaves" : "leave"} something on the start line; it is not counted.`,
      remedy:
        "What came off the column should move: suspect fines of silica, grease or pencil, or run the plate in a stronger eluent.",
      where: { fraction: tubes[0] },
    },
  ];
}
