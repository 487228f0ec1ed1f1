import { memoryFor, ROOM, vectorCode } from "./simd/index.ts";

/** Bytes that the selection needs beside the values. */
const DRAWERS = 4 * 2049;

/**
 * The value that would stand at place `k` (0-based) if `values` were sorted, which they are not: many are sorted into drawers by their
 * first bits, and of one drawer Hoare's selection (CACM 1961, 4, 321) takes it. NaN must not occur.
 */
export function selectAt(values: Float32Array, k: number): number {
  const at = ROOM + DRAWERS;
  memoryFor(DRAWERS + 4 * values.length).set(values, at / 4);
  return vectorCode().selectNth(at, values.length, k, ROOM);
}
