import { withMats } from "./opencv.ts";

/** A connected patch of set pixels: bounding box (x1, y1 exclusive), area in pixels, centroid. */
export interface Patch {
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
  readonly area: number;
  readonly cx: number;
  readonly cy: number;
}

/** Two patches as one. */
export function aroundBoth(a: Patch, b: Patch): Patch {
  const area = a.area + b.area;
  return {
    x0: Math.min(a.x0, b.x0),
    x1: Math.max(a.x1, b.x1),
    y0: Math.min(a.y0, b.y0),
    y1: Math.max(a.y1, b.y1),
    area,
    cx: (a.cx * a.area + b.cx * b.area) / area,
    cy: (a.cy * a.area + b.cy * b.area) / area,
  };
}

/** Eight-connected patches of at least `minArea` pixels, in the order OpenCV finds them (row by row). */
export function connectedPatches(mask: Uint8Array, width: number, height: number, minArea: number): Patch[] {
  return withMats((cv, keep) => {
    const image = keep(new cv.Mat(height, width, cv.CV_8UC1));
    image.data.set(mask);
    const labels = keep(new cv.Mat());
    const stats = keep(new cv.Mat());
    const centroids = keep(new cv.Mat());
    const count = cv.connectedComponentsWithStats(image, labels, stats, centroids, 8, cv.CV_32S);
    const patches: Patch[] = [];
    // Each asking for them makes a view of OpenCV's memory.
    const { data32S: numbers } = stats;
    const { data64F: centres } = centroids;
    for (let i = 1; i < count; i++) {
      const area = numbers[i * 5 + 4];
      if (area < minArea) continue;
      const [left, top, w, h] = numbers.subarray(i * 5, i * 5 + 4);
      patches.push({
        x0: left,
        y0: top,
        x1: left + w,
        y1: top + h,
        area,
        cx: centres[i * 2],
        cy: centres[i * 2 + 1],
      });
    }
    return patches;
  });
}

/** 255 where a value is above `least`; 0 elsewhere. */
export function maskAbove(values: Float32Array, least: number): Uint8Array {
  const mask = new Uint8Array(values.length);
  setAbove(values, least, mask);
  return mask;
}

/** A loop of its own, which the engine compiles early. */
function setAbove(values: Float32Array, least: number, mask: Uint8Array): void {
  for (let i = 0; i < mask.length; i++) if (values[i] > least) mask[i] = 255;
}
