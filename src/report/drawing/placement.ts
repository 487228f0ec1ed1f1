import { lineAt, type ResultLane, type ResultPlate } from "../../model/index.ts";

/** Where a lane lies on its plate, in plate fractions. */
export interface LanePlacement {
  /** Centre at the origin. */
  readonly x: number;
  /** The centre at height y is x + drift * (originY - y). */
  readonly drift: number;
  readonly originY: number;
  /** The front where this lane meets it: Rf 1 is here. */
  readonly frontY: number;
  /** Room that the lane has to itself, as a fraction of the plate's width. */
  readonly pitch: number;
}

/** Places a lane of a plate: its own way from origin to front, and how far it is from its neighbours. */
export function placeLane(plate: ResultPlate, lane: ResultLane): LanePlacement {
  const originY = lineAt({ ...plate.origin, sd: 0 }, lane.x);
  const straight = lineAt({ ...plate.front, sd: 0 }, lane.x);
  const atFront = lane.x + lane.drift * (originY - straight);
  const frontY = lineAt({ ...plate.front, sd: 0 }, atFront);
  const gaps = plate.lanes.filter((l) => l.index !== lane.index).map((l) => Math.abs(l.x - lane.x));
  const room = Math.min(...gaps, 2 * lane.x, 2 * (1 - lane.x));
  return { x: lane.x, drift: lane.drift, originY, frontY, pitch: Math.max(0.02, room) };
}

/** Centre of the lane at height y (plate fractions). */
export function laneXAt(place: LanePlacement, y: number): number {
  return place.x + place.drift * (place.originY - y);
}

/** Height of an Rf in the lane (plate fractions). */
export function laneYAt(place: LanePlacement, rf: number): number {
  return place.originY - rf * (place.originY - place.frontY);
}

/** A window of a drawing into which a lane is mapped, in the drawing's units. */
export interface StripWindow {
  readonly width: number;
  readonly height: number;
  /** Rf at the upper and lower edge. */
  readonly rfTop: number;
  readonly rfBottom: number;
}

/** How far a strip may be widened against its height, so that narrow lanes still fill their place. */
const MOST_STRETCH = 1.8;

/**
 * Affine map from pixels of the straightened plate to the window: origin to Rf 0, the lane's front to Rf 1, the lane's
 * centre line upright in the middle.
 * @returns SVG's six numbers, and the width of the strip (units), at most that of the window
 */
export function stripTransform(
  place: LanePlacement,
  picture: { readonly width: number; readonly height: number },
  window: StripWindow,
): { matrix: readonly [number, number, number, number, number, number]; width: number } {
  const perRf = window.height / (window.rfTop - window.rfBottom);
  const perHeight = perRf / Math.max(1e-6, place.originY - place.frontY);
  const trueScale = (perHeight / picture.height) * picture.width;
  const stretch = Math.min(MOST_STRETCH, Math.max(1, window.width / (place.pitch * trueScale)));
  const perWidth = trueScale * stretch;
  const width = Math.min(window.width, place.pitch * perWidth);
  const matrix = [
    perWidth / picture.width,
    0,
    (perWidth * place.drift) / picture.height,
    perHeight / picture.height,
    window.width / 2 - perWidth * (place.x + place.drift * place.originY),
    window.rfTop * perRf - perHeight * place.originY,
  ] as const;
  return { matrix, width };
}

/** Height of an Rf in the window, from its upper edge. */
export function windowY(window: StripWindow, rf: number): number {
  return ((window.rfTop - rf) / (window.rfTop - window.rfBottom)) * window.height;
}
