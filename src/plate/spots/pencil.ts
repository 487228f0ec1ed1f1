import { lineAt } from "../../model/index.ts";
import type { PlateFrame } from "../frame.ts";
import type { MarkRow, SignalMap } from "../view.ts";

/** How far a mark may lie from the origin, as a share of the plate's height, and from its lane, in pitches. */
const NEAR = { height: 0.02, pitch: 0.28 };

/** Which lanes have a pencil mark on the origin, in any photo, and the share of them. */
export function pencilAtOrigin(
  rows: readonly MarkRow[],
  { width, height }: Pick<SignalMap, "width" | "height">,
  frame: PlateFrame,
): { lanes: boolean[]; share: number } {
  const centres = rows
    .flatMap((row) => row.marks)
    .map((m) => ({ x: (m.x0 + m.x1) / 2 / width, y: (m.y0 + m.y1) / 2 / height }))
    .filter(({ x, y }) => Math.abs(y - lineAt(frame.origin, x)) < NEAR.height);
  const lanes = frame.tracks.map((t) => centres.some(({ x }) => Math.abs(x - t.x) < NEAR.pitch * frame.pitch));
  return { lanes, share: lanes.filter(Boolean).length / lanes.length };
}
