import type { PlateFrame } from "../../../src/plate/frame.ts";

/** A plate with its start line at 0.87 of the height and its front at 0.1, straight and level, and upright lanes. */
export function levelFrame(lanes: readonly number[], pitch: number): PlateFrame {
  const line = (y: number) => ({ y, tilt: 0, bow: 0, source: "found" as const, sd: 0.001 });
  return { origin: line(0.87), front: line(0.1), pitch, tracks: lanes.map((x) => ({ x, drift: 0 })) };
}
