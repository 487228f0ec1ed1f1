import { deepestValley } from "../../math/valley.ts";
import type { Finding } from "../../model/index.ts";
import { showsChance } from "../belief.ts";
import { componentId, rfInWords } from "../words.ts";
import type { AlarmInput } from "./alarmInput.ts";

/** A dip to a quarter of the lower hump, in two tubes or more, is no slip of the hand. */
const HUMP_DEPTH = Math.log(4);
/** A tail this many times the width of its peak is long. */
const LONG_TAIL = 2;
/** From this chance on that plates were misread, someone should look. */
const LIKELY_MISREAD = 0.15;
/** Amounts that scatter as much as this (log) jump: those of 1 run in 15 on good photos, of 1 in 3 on the worst; 0.77 of their tubes are right, of the others 0.92. */
const JUMPING = 0.5;
/** Share of the most that still counts as product. */
const PRODUCT = 0.05;

/** Alarms about the column as a whole. */
export function columnAlarms(input: AlarmInput): Finding[] {
  return [...twoHumps(input), ...allTailing(input), ...jumpingAmounts(input), ...neverOff(input), ...atTheEnds(input)];
}

function twoHumps(input: AlarmInput): Finding[] {
  return input.measured.flatMap((row, k) => {
    const spotted = row.flatMap((a, t) => (a === null ? [] : [{ a, t }]));
    const most = Math.max(0, ...spotted.map((s) => s.a));
    if (most === 0) return [];
    const valley = deepestValley(spotted.map((s) => Math.log(s.a + 0.01 * most)));
    if (Math.min(valley.depth, valley.second) < HUMP_DEPTH) return [];
    const id = componentId(k);
    return [
      {
        code: "two-humps",
        message: `${id} (${rfInWords(input.grouping.rf[k])}) comes off in two humps, with a dip at tube ${spotted[valley.at].t + 1}.`,
        remedy:
          "Look for a cracked or channelled bed or overload; it may also be two substances of one Rf: co-spot the two humps.",
        where: { fraction: spotted[valley.at].t + 1 },
      },
    ];
  });
}

function allTailing(input: AlarmInput): Finding[] {
  const known = input.tailing.filter((t) => t !== null);
  if (known.length < 2 || known.some((t) => t < LONG_TAIL)) return [];
  return [
    {
      code: "all-tailing",
      message: "Every component tails over many tubes.",
      remedy: "Check the bed for cracks and channels; load less or as a narrower band.",
      where: {},
    },
  ];
}

function jumpingAmounts({ misread, scatter }: AlarmInput): Finding[] {
  if (misread < LIKELY_MISREAD && scatter < JUMPING) return [];
  return [
    {
      code: "amounts-jump",
      message:
        "Amounts jump from tube to tube, or spots are doubtful and fit no component: a plate may be misread, or spotted unevenly.",
      remedy:
        "Check lanes, start line and front of every plate in the overlays; all confidences are lowered until then.",
      where: {},
    },
  ];
}

function neverOff(input: AlarmInput): Finding[] {
  return input.grouping.rf.flatMap((rf, k) => {
    const inTubes = input.tubes.some((t) => showsChance(t.components[k]) > 0.5);
    const lane = input.grouping.lanes.find(
      (l) => l.tube === null && l.spots.some((s) => s.alone[k] + s.joint[k] + (s.joint[k - 1] ?? 0) > 0.5),
    );
    if (inTubes || !lane || input.tubes.length === 0) return [];
    // What runs faster than a substance that has come off must have come off before it.
    const faster = input.tubes.some((t) => t.components.some((b, j) => j > k && showsChance(b) > 0.5));
    const remedy = faster
      ? "It runs faster than what did come off: it may hide under a near neighbour, or in tubes nobody spotted."
      : "It may still be on the column: flush with a more polar eluent, and spot the tubes nobody has spotted.";
    return [
      {
        code: "never-came-off",
        message: `${componentId(k)} (${rfInWords(rf)}) stands in lane "${lane.label}" but in no tube.`,
        remedy,
        where: { plate: lane.ref.plate, lane: lane.ref.lane },
      },
    ];
  });
}

function atTheEnds(input: AlarmInput): Finding[] {
  const last = input.tubes.length;
  if (last < 3) return [];
  return input.measured.flatMap((row, k) => {
    const most = Math.max(0, ...row.map((a) => a ?? 0));
    const found: Finding[] = [];
    const id = componentId(k);
    if (most > 0 && (row[0] ?? 0) > PRODUCT * most) {
      found.push({
        code: "in-first-tube",
        message: `${id} is in the very first tube.`,
        remedy: "Some may have run through before collecting began: check the forerun.",
        where: { fraction: 1 },
      });
    }
    if (most > 0 && (row[last - 1] ?? 0) > PRODUCT * most) {
      found.push({
        code: "in-last-tube",
        message: `${id} is still coming off in the last tube.`,
        remedy: "Collect on, or flush the column and spot what comes.",
        where: { fraction: last },
      });
    }
    return found;
  });
}
