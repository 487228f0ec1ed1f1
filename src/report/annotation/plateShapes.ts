import { projectPoint, squareToQuad } from "../../math/homography4.ts";
import {
  lineAt,
  type Point,
  type Quad,
  type ResultLine,
  type ResultPlate,
  type ResultSpot,
} from "../../model/index.ts";
import { type LanePlacement, laneXAt, laneYAt, placeLane } from "../drawing/placement.ts";

/** A rectangle in pixels of the picture. */
export interface Box {
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
}

export interface SpotShape {
  readonly spot: ResultSpot;
  readonly path: string;
  readonly box: Box;
}

export interface LaneShape {
  readonly label: string;
  /** Where the label stands, and how much room it has. */
  readonly at: Point;
  readonly room: number;
  readonly path: string;
  readonly spots: readonly SpotShape[];
}

/** All that one photo shows of one plate, in pixels of the picture. */
export interface PlateShapes {
  readonly outline: string;
  readonly origin: { readonly path: string; readonly assumed: boolean };
  readonly front: { readonly path: string; readonly assumed: boolean };
  readonly lanes: readonly LaneShape[];
  /** Mean length of the plate's sides. */
  readonly size: number;
}

type Project = (x: number, y: number) => Point;

/**
 * Lays a plate's reading over the picture.
 * @param corners of the plate in pixels of the upright original
 * @param scale original pixels per pixel of the picture
 * @returns null where the corners are no quadrilateral
 */
export function plateShapes(plate: ResultPlate, corners: readonly Point[], scale: number): PlateShapes | null {
  if (corners.length !== 4) return null;
  const map = squareToQuad(corners as unknown as Quad);
  if (!map) return null;
  const project: Project = (x, y) => {
    const [px, py] = projectPoint(map, [x, y]);
    return [px / scale, py / scale];
  };
  const quad = (
    [
      [0, 0],
      [1, 0],
      [1, 1],
      [0, 1],
    ] as const
  ).map(([x, y]) => project(x, y));
  const size = quad.reduce((sum, p, i) => sum + distance(p, quad[(i + 1) % 4]), 0) / 4;
  return {
    outline: `${polyline(quad)}Z`,
    origin: migrationShape(plate.origin, project),
    front: migrationShape(plate.front, project),
    lanes: plate.lanes.map((lane) => {
      const place = placeLane(plate, lane);
      return {
        label: lane.label,
        at: project(lane.x, Math.min(0.97, place.originY + Math.min(0.055, (1 - place.originY) / 2))),
        room: Math.min(...[place.originY, place.frontY].map((y) => roomAt(place, y, project))),
        path: laneShape(place, project),
        spots: lane.spots.map((spot) => spotShape(spot, place, project)),
      };
    }),
    size,
  };
}

/** Width that a lane has to itself at height y, in pixels of the picture. */
function roomAt(place: LanePlacement, y: number, project: Project): number {
  const x = laneXAt(place, y);
  return distance(project(x - place.pitch / 2, y), project(x + place.pitch / 2, y));
}

function migrationShape(line: ResultLine, project: Project) {
  const steps = Array.from({ length: 25 }, (_, i) => i / 24);
  const path = polyline(steps.map((u) => project(u, lineAt({ ...line, sd: 0 }, u))));
  return { path, assumed: line.source === "assumed" };
}

function laneShape(place: LanePlacement, project: Project): string {
  const steps = Array.from({ length: 9 }, (_, i) => laneYAt(place, i / 8));
  return polyline(steps.map((y) => project(laneXAt(place, y), y)));
}

/** An ellipse of the spot's widths at half height, a little enlarged so that it does not cover the rim it shows. */
function spotShape(spot: ResultSpot, place: LanePlacement, project: Project): SpotShape {
  const rx = Math.max(0.008, spot.width_x * 0.62);
  const ry = Math.max(0.006, spot.width_rf * (place.originY - place.frontY) * 0.62);
  const points = Array.from({ length: 28 }, (_, i) => {
    const angle = (2 * Math.PI * i) / 28;
    return project(spot.x + rx * Math.cos(angle), spot.y + ry * Math.sin(angle));
  });
  const xs = points.map(([x]) => x);
  const ys = points.map(([, y]) => y);
  const box = { x0: Math.min(...xs), y0: Math.min(...ys), x1: Math.max(...xs), y1: Math.max(...ys) };
  return { spot, path: `${polyline(points)}Z`, box };
}

function polyline(points: readonly Point[]): string {
  return `M${points.map(([x, y]) => `${x.toFixed(1)} ${y.toFixed(1)}`).join("L")}`;
}

function distance(a: Point, b: Point): number {
  return Math.hypot(a[0] - b[0], a[1] - b[1]);
}
