import { memoryFor, ROOM, vectorCode } from "./simd/index.ts";

/**
 * The value that would stand at place `k` (0-based) if `values` were sorted: Hoare's selection (CACM 1961, 4, 321).
 * Reorders `values`; much quicker than sorting them all. NaN must not occur.
 */
export function selectAt(values: Float32Array, k: number): number {
  const memory = memoryFor(4 * values.length);
  memory.set(values, ROOM / 4);
  const value = vectorCode().selectNth(ROOM, values.length, k);
  values.set(memory.subarray(ROOM / 4, ROOM / 4 + values.length));
  return value;
}
