import type { Result, ResultFraction, ResultLane, ResultPlate } from "../../model/index.ts";

/** One place of the lane board: a lane, or a tube that nobody spotted. */
export interface LaneSlot {
  /** What stands below: the tube's number, or the name of the reference lane. */
  readonly label: string;
  readonly fraction: ResultFraction | null;
  readonly plate: ResultPlate | null;
  readonly lane: ResultLane | null;
}

/** Reference lanes, plate by plate from the left. */
export function referenceSlots(result: Result): LaneSlot[] {
  return result.plates.flatMap((plate) =>
    plate.lanes
      .filter((lane) => lane.fraction === null)
      .map((lane) => ({ label: lane.label, fraction: null, plate, lane })),
  );
}

/** Tubes in elution order, each with every lane that carries it; a tube in no lane keeps an empty place. */
export function tubeSlots(result: Result): LaneSlot[] {
  return result.fractions.flatMap((fraction): LaneSlot[] => {
    const label = String(fraction.number);
    const lanes = result.plates.flatMap((plate) =>
      plate.lanes.filter((lane) => lane.fraction === fraction.number).map((lane) => ({ label, fraction, plate, lane })),
    );
    return lanes.length > 0 ? lanes : [{ label, fraction, plate: null, lane: null }];
  });
}

/** Width of a slot in strips: an unspotted tube takes less. */
export function slotWeight(slot: LaneSlot): number {
  return slot.lane ? 1 : 0.55;
}

/** Cuts slots into rows of at most `most` strips' width, as even as they come. */
export function slotRows(slots: readonly LaneSlot[], most: number): LaneSlot[][] {
  const total = slots.reduce((sum, s) => sum + slotWeight(s), 0);
  const rows = Math.max(1, Math.ceil(total / most));
  const each = Math.min(most, total / rows + 0.5);
  const cut: LaneSlot[][] = [];
  let room = 0;
  for (const slot of slots) {
    const weight = slotWeight(slot);
    if (cut.length === 0 || room + 1e-9 < weight) {
      cut.push([]);
      room = each;
    }
    cut.at(-1)?.push(slot);
    room -= weight;
  }
  return cut;
}
