import { createRequire } from "node:module";

// biome-ignore lint/suspicious/noExplicitAny: the whole of OpenCV, as a second opinion
type Cv = any;

/** OpenCV itself, untyped: what our own pixel work is held against. The caller deletes its Mats. */
export function openCv<T>(work: (cv: Cv) => T): T {
  return work(createRequire(import.meta.url)("opencv-wasm").cv);
}
