import type { Point, Quad } from "../../model/index.ts";

/** Area of a convex polygon, square pixels. */
export function quadArea(quad: readonly Point[]): number {
  let sum = 0;
  for (let i = 0; i < quad.length; i++) {
    const [ax, ay] = quad[i];
    const [bx, by] = quad[(i + 1) % quad.length];
    sum += ax * by - bx * ay;
  }
  return Math.abs(sum) / 2;
}

/** True where every corner of `inner` lies at least `margin` inside `outer` (corners clockwise as seen). */
export function contains(outer: Quad, inner: Quad, margin: number): boolean {
  return inner.every((p) => outer.every((a, i) => sideDistance(a, outer[(i + 1) & 3], p) >= margin));
}

/** Area of the overlap over the area of the smaller quadrilateral, 0..1. */
export function overlapShare(a: Quad, b: Quad): number {
  let shape: Point[] = [...b];
  for (let i = 0; i < 4 && shape.length > 2; i++) shape = clip(shape, a[i], a[(i + 1) & 3]);
  return shape.length > 2 ? quadArea(shape) / Math.min(quadArea(a), quadArea(b)) : 0;
}

/** Distance from the line through a and b, positive to the right of the way from a to b (y down): inside. */
export function sideDistance(a: Point, b: Point, p: Point): number {
  return ((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])) / Math.hypot(b[0] - a[0], b[1] - a[1]);
}

/** Cuts a convex polygon along a line (Sutherland and Hodgman, CACM 1974, 17, 32). */
function clip(shape: readonly Point[], a: Point, b: Point): Point[] {
  const out: Point[] = [];
  for (let i = 0; i < shape.length; i++) {
    const p = shape[i];
    const q = shape[(i + 1) % shape.length];
    const dp = sideDistance(a, b, p);
    const dq = sideDistance(a, b, q);
    if (dp >= 0) out.push(p);
    if (dp >= 0 !== dq >= 0) {
      const t = dp / (dp - dq);
      out.push([p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1])]);
    }
  }
  return out;
}

/** Plates in the order in which the picture shows them. */
export function leftToRight<T extends { readonly quad: Quad }>(plates: readonly T[]): T[] {
  const x = ({ quad }: T) => quad.reduce((sum, [own]) => sum + own, 0);
  return [...plates].sort((a, b) => x(a) - x(b));
}
