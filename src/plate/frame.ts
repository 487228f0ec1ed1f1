import { lineAt, type MigrationLine } from "../model/index.ts";

/** A lane's centre line, in plate fractions: x at the origin and drift (x = x0 + drift * (origin - y)). */
export interface LaneTrack {
  readonly x: number;
  readonly drift: number;
}

/** Where origin and front lie and which way the lanes go: turns (lane, across, Rf) into plate positions. */
export interface PlateFrame {
  readonly origin: MigrationLine;
  readonly front: MigrationLine;
  /** Distance of neighbouring lanes, as a fraction of the plate's width. */
  readonly pitch: number;
  readonly tracks: readonly LaneTrack[];
}

/** Height (plate fraction from the top) of a given Rf at u, each place across the plate with its own way. */
export function heightOfRf(frame: PlateFrame, u: number, rf: number): number {
  const origin = lineAt(frame.origin, u);
  return origin - rf * (origin - lineAt(frame.front, u));
}

/** x (plate fraction) of a lane's centre at height y. */
export function laneX(frame: PlateFrame, track: LaneTrack, y: number): number {
  return track.x + track.drift * (lineAt(frame.origin, track.x) - y);
}
