import { setFlagsFromString } from "node:v8";

/**
 * By how many percent what lives may grow until all of it is swept. The engine counts planes of pixels among it: with its usual share, and
 * planes that come and go, it swept two to three times a photo what hardly changes, for a seventh of the time that reading takes.
 */
const GROWTH = 300;

/**
 * Half the room, in MB, that a thread has for what lives shortly. Reading a plate leaves some 30 MB of it, drawing its pictures more: with
 * V8's usual 1 to 16 MB that is swept up several times a plate.
 */
const YOUNG_MB = 32;

/** Lays out the engine for planes of pixels: all threads, this one too. To be called first. */
export function layOutEngine(): void {
  setFlagsFromString(`--heap-growing-percent=${GROWTH}`);
}

/** Threads started from now on have more room for what lives shortly; this one was laid out when it began. */
export function layOutThreads(): void {
  for (const bound of ["min", "max"]) setFlagsFromString(`--${bound}-semi-space-size=${YOUNG_MB}`);
}
