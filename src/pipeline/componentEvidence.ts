import type { Component, ElutionReading, Lane, PlateReading, Spot, SpotAssignment } from "../model/index.ts";

/** Evidence as it is shown to the decision, and the way back to what was read. */
export interface ShownPlates {
  readonly plates: readonly ShownPlate[];
  readonly changed: boolean;
  /** From an Rf as shown to the Rf as read. */
  readonly trueRf: (shown: number) => number;
  /** Numbers of the spots as read that a shown spot stands for. */
  readonly spotsBehind: (plate: string, lane: number, spot: number) => readonly number[];
}

interface ShownPlate {
  readonly reading: PlateReading;
  /** For each lane and each of its spots: the spots as read behind it. */
  readonly behind: readonly (readonly (readonly number[])[])[];
}

/** Two that a person tells apart are shown so far apart, Rf: no spot is so wide that they would be taken for one. */
const APART = 0.12;

/** Everything as it was read. */
export function asRead(plates: readonly PlateReading[]): ShownPlates {
  const shown = plates.map((reading) => ({
    reading,
    behind: reading.lanes.map((lane) => lane.spots.map((_, i) => [i])),
  }));
  return shownPlates(shown, false, (rf) => rf);
}

function shownPlates(plates: readonly ShownPlate[], changed: boolean, trueRf: (shown: number) => number): ShownPlates {
  const spotsBehind = (plate: string, lane: number, spot: number) => {
    const own = plates.find((p) => p.reading.id === plate);
    const at = own?.reading.lanes.findIndex((l) => l.index === lane) ?? -1;
    return own?.behind[at]?.[spot] ?? [];
  };
  return { plates, changed, trueRf, spotsBehind };
}

/** The spots of two components laid onto one Rf; where a lane shows both they become one spot of both amounts. */
export function joined(
  shown: ShownPlates,
  assignments: readonly SpotAssignment[],
  a: Component,
  b: Component,
): ShownPlates {
  const counts = [a, b].map((c) => assignments.filter((s) => s.component === c.id).length);
  const common = (a.rf * counts[0] + b.rf * counts[1]) / Math.max(1, counts[0] + counts[1]);
  const of = componentOf(assignments);
  const plates = shown.plates.map((plate) =>
    mapLanes(plate, (lane, behind) => {
      const ids = lane.spots.map((_, i) => of(plate.reading.id, lane.index, i));
      const mine = ids.flatMap((id, i) => (id === a.id || id === b.id ? [i] : []));
      if (mine.length === 0) return { spots: lane.spots, behind };
      const moved = mine.map((i) => shifted(lane.spots[i], common - (ids[i] === a.id ? a.rf : b.rf)));
      const rest = lane.spots.map((spot, i) => ({ spot, behind: behind[i], i })).filter(({ i }) => !mine.includes(i));
      const one = { spot: fused(moved), behind: mine.flatMap((i) => behind[i]) };
      const all = [...rest, one].sort((p, q) => p.spot.rf - q.spot.rf);
      return { spots: all.map((s) => s.spot), behind: all.map((s) => s.behind) };
    }),
  );
  return shownPlates(plates, true, shown.trueRf);
}

/**
 * The spots of one component drawn apart at `at` (true Rf): those above it, and all components above, move up; then the
 * scale is shrunk to 0..1 again, so that nothing runs into anything. Null where one side has no spot.
 */
export function splitApart(
  shown: ShownPlates,
  reading: ElutionReading,
  one: Component,
  at: number,
): ShownPlates | null {
  const of = componentOf(reading.assignments);
  const order = new Map(reading.components.map((c, k) => [c.id, k]));
  const own = order.get(one.id) ?? 0;
  const isUpper = (plate: string, lane: number, spot: number, rf: number) => {
    const k = order.get(of(plate, lane, spot) ?? "");
    return k === undefined || k === own ? shown.trueRf(rf) > at : k < own;
  };
  const halves: [number[], number[]] = [[], []];
  for (const { reading: plate } of shown.plates)
    for (const lane of plate.lanes)
      lane.spots.forEach((spot, i) => {
        if (of(plate.id, lane.index, i) === one.id)
          halves[isUpper(plate.id, lane.index, i, spot.rf) ? 1 : 0].push(spot.rf);
      });
  const [low, high] = halves;
  if (low.length === 0 || high.length === 0) return null;
  const mean = (values: readonly number[]) => values.reduce((s, v) => s + v, 0) / values.length;
  const push = Math.max(0, APART - (mean(high) - mean(low)));
  const shrink = 1 / (1 + push);
  const plates = shown.plates.map((plate) =>
    mapLanes(plate, (lane, behind) => ({
      spots: lane.spots.map((spot, i) => {
        const up = isUpper(plate.reading.id, lane.index, i, spot.rf) ? push : 0;
        return { ...spot, rf: (spot.rf + up) * shrink, rfSd: spot.rfSd * shrink, widthRf: spot.widthRf * shrink };
      }),
      behind,
    })),
  );
  // The middle between the halves as they are shown parts what was pushed from what was not.
  const middle = (mean(low) + mean(high) + push) / 2;
  return shownPlates(plates, true, (rf) => {
    const stretched = rf / shrink;
    return shown.trueRf(stretched > middle ? stretched - push : stretched);
  });
}

function componentOf(assignments: readonly SpotAssignment[]) {
  const key = (plate: string, lane: number, spot: number) => `${plate}/${lane}/${spot}`;
  const ids = new Map(assignments.map((a) => [key(a.plate, a.lane, a.spot), a.component]));
  return (plate: string, lane: number, spot: number) => ids.get(key(plate, lane, spot)) ?? null;
}

type Behind = readonly (readonly number[])[];

function mapLanes(
  { reading, behind }: ShownPlate,
  change: (lane: Lane, behind: Behind) => { spots: readonly Spot[]; behind: Behind },
): ShownPlate {
  const changed = reading.lanes.map((lane, l) => change(lane, behind[l]));
  return {
    reading: { ...reading, lanes: reading.lanes.map((lane, l) => ({ ...lane, spots: changed[l].spots })) },
    behind: changed.map((c) => c.behind),
  };
}

function shifted(spot: Spot, by: number): Spot {
  return { ...spot, rf: Math.min(1, Math.max(0, spot.rf + by)) };
}

/** How many spots of a component stand below and above `at` (true Rf). */
export function sidesOf(
  shown: ShownPlates,
  assignments: readonly SpotAssignment[],
  one: Component,
  at: number,
): { below: number; above: number } {
  const of = componentOf(assignments);
  let above = 0;
  let all = 0;
  for (const { reading } of shown.plates)
    for (const lane of reading.lanes)
      lane.spots.forEach((spot, i) => {
        if (of(reading.id, lane.index, i) !== one.id) return;
        all++;
        if (shown.trueRf(spot.rf) > at) above++;
      });
  return { below: all - above, above };
}

/** One spot with the amounts of all, at their centre of gravity. */
function fused(spots: readonly Spot[]): Spot {
  if (spots.length === 1) return spots[0];
  const strongest = [...spots].sort((p, q) => q.amount - p.amount)[0];
  const sum = (value: (s: Spot) => number) => spots.reduce((s, spot) => s + value(spot), 0);
  const amount = sum((s) => s.amount);
  return {
    ...strongest,
    rf: amount > 0 ? sum((s) => s.rf * s.amount) / amount : strongest.rf,
    amount,
    amountSd: Math.sqrt(sum((s) => s.amountSd ** 2)),
    confidence: Math.max(...spots.map((s) => s.confidence)),
    responses: strongest.responses.map((r, i) => ({
      ...r,
      amount: sum((s) => s.responses[i]?.amount ?? 0),
      amountSd: Math.sqrt(sum((s) => (s.responses[i]?.amountSd ?? 0) ** 2)),
    })),
    flags: strongest.flags.filter((f) => f !== "touching"),
    lights: [...new Set(spots.flatMap((s) => s.lights))],
  };
}
