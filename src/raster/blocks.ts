import { memoryFor, ROOM, vectorCode } from "../math/simd/index.ts";
import { makePlane, type Plane } from "./picture.ts";

/** Means over blocks of factor x factor pixels; a rest at the right or lower border that fills no block is left out. */
export function blockMeans(plane: Plane, factor: number): Plane {
  const out = makePlane(Math.floor(plane.width / factor), Math.floor(plane.height / factor));
  const means = ROOM + 4 * plane.data.length;
  const memory = memoryFor(means + 4 * out.data.length - ROOM);
  memory.set(plane.data, ROOM / 4);
  vectorCode().averageValues(ROOM, plane.width, factor, out.width, out.height, means);
  out.data.set(memory.subarray(means / 4, means / 4 + out.data.length));
  return out;
}
