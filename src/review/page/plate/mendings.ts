import { plateKeyOf } from "../../../decisions/index.ts";
import type {
  GivenLane,
  Mending,
  Point,
  Quad,
  Result,
  ResultLane,
  ResultPlate,
  ResultSpot,
  SpotKey,
} from "../../../model/index.ts";
import { laneXAt, placeLane } from "../../../report/drawing/placement.ts";

/** Rf of a height on the plate (fraction from the top) in one of its lanes. */
export function rfAt(plate: ResultPlate, lane: ResultLane, y: number): number {
  const { originY, frontY } = placeLane(plate, lane);
  return (originY - y) / (originY - frontY);
}

/** Height of an Rf in a lane, fraction from the top. */
export function yAt(plate: ResultPlate, lane: ResultLane, rf: number): number {
  const { originY, frontY } = placeLane(plate, lane);
  return originY - rf * (originY - frontY);
}

/** The lane nearest to a point of the plate (fractions). */
export function laneNear(plate: ResultPlate, x: number, y: number): ResultLane | null {
  const away = (lane: ResultLane) => Math.abs(laneXAt(placeLane(plate, lane), y) - x);
  return plate.lanes.reduce<ResultLane | null>((best, l) => (best === null || away(l) < away(best) ? l : best), null);
}

const given = ({ x, label, fraction }: ResultLane): GivenLane => ({ x, label, fraction });

function keyOf(lane: ResultLane, { rf, y }: ResultSpot): SpotKey {
  return { lane: lane.x, rf, y };
}

function clamp(value: number, low: number, high: number): number {
  return Math.min(high, Math.max(low, value));
}

/** Corrections of one plate, made from what the person did; all places in plate fractions. */
export function mendingsOf(result: Result, plate: ResultPlate) {
  const key = plateKeyOf(result, plate);
  const lanesAs = (done: "add" | "move" | "strike", lanes: readonly GivenLane[]): Mending => ({
    what: "lanes",
    plate: key,
    done,
    lanes: [...lanes].sort((a, b) => a.x - b.x),
  });
  return {
    line: (what: "origin" | "front", y: number): Mending => ({ what, plate: key, y: clamp(y, 0, 1) }),
    corners: (photo: string, corners: readonly Point[]): Mending => ({
      what: "corners",
      plate: key,
      photo,
      corners: corners as unknown as Quad,
    }),
    addLane: (x: number): Mending => {
      const at = clamp(x, 0, 1);
      return lanesAs("add", [...plate.lanes.map(given), { x: at, label: "new", fraction: null }]);
    },
    moveLane: (lane: ResultLane, x: number): Mending =>
      lanesAs(
        "move",
        plate.lanes.map((l) => (l.index === lane.index ? { ...given(l), x: clamp(x, 0, 1) } : given(l))),
      ),
    strikeLane: (lane: ResultLane): Mending =>
      lanesAs("strike", plate.lanes.filter((l) => l.index !== lane.index).map(given)),
    /** A whole number is a tube; any other word names a reference lane. */
    nameLane: (lane: ResultLane, typed: string): Mending => {
      const label = typed.trim();
      const fraction = /^[1-9]\d{0,3}$/.test(label) ? Number(label) : null;
      return { what: "lane-name", plate: key, lane: { x: lane.x, label, fraction } };
    },
    addSpot: (lane: ResultLane, y: number): Mending => ({
      what: "spot-add",
      plate: key,
      spot: { lane: lane.x, rf: rfAt(plate, lane, y), y },
    }),
    moveSpot: (lane: ResultLane, spot: ResultSpot, y: number): Mending => ({
      what: "spot-move",
      plate: key,
      spot: keyOf(lane, spot),
      to: { lane: lane.x, rf: rfAt(plate, lane, y), y },
    }),
    strikeSpot: (lane: ResultLane, spot: ResultSpot): Mending => ({
      what: "spot-strike",
      plate: key,
      spot: keyOf(lane, spot),
    }),
  };
}

/** Where a further lane most likely stands: in the middle of the widest gap between lanes, or beyond the last. */
export function widestGap(plate: ResultPlate): number {
  const xs = plate.lanes.map((l) => l.x).sort((a, b) => a - b);
  if (xs.length === 0) return 0.5;
  const pitch = xs.length > 1 ? (xs[xs.length - 1] - xs[0]) / (xs.length - 1) : 0.2;
  const gaps = xs.slice(1).map((x, i) => ({ at: (x + xs[i]) / 2, room: x - xs[i] }));
  const widest = gaps.reduce((best, g) => (g.room > best.room ? g : best), { at: 0, room: pitch * 1.5 });
  if (widest.at > 0) return widest.at;
  return 1 - xs[xs.length - 1] > xs[0] ? Math.min(0.98, xs[xs.length - 1] + pitch) : Math.max(0.02, xs[0] - pitch);
}
