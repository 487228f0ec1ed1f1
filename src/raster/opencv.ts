import { createRequire } from "node:module";
import type { OpenCv } from "./opencvTypes.ts";

type Translate = (cv: OpenCv, thrown: number) => unknown;

/** Anything OpenCV hands out that lives on its own heap and must be deleted by hand. */
interface Deletable {
  delete(): void;
}

/** Puts an OpenCV object (Mat, MatVector …) under the care of the running `withMats` call and returns it. */
export type Keep = <T extends Deletable>(object: T) => T;

const CRASH_EVENTS = ["uncaughtException", "unhandledRejection"] as const;

let loaded: { cv: OpenCv; translate: Translate } | null = null;

/**
 * Loads opencv-wasm at the first call (about 80 ms) and keeps it.
 * Loading hangs two crash listeners on the process that would change how the whole program ends on an error;
 * exactly those two are taken off again.
 */
function load(): { cv: OpenCv; translate: Translate } {
  if (loaded) return loaded;
  // biome-ignore lint/style/noRestrictedGlobals: the one place that must undo what loading the library does to the process
  const host = process;
  const before = CRASH_EVENTS.map((event) => new Set(host.listeners(event as "uncaughtException")));
  const module = createRequire(import.meta.url)("opencv-wasm") as { cv: OpenCv; cvTranslateError: Translate };
  CRASH_EVENTS.forEach((event, i) => {
    for (const listener of host.listeners(event as "uncaughtException")) {
      if (!before[i].has(listener)) host.removeListener(event, listener);
    }
  });
  loaded = { cv: module.cv, translate: module.cvTranslateError };
  return loaded;
}

/**
 * Runs `work` with OpenCV and frees everything it kept, whether it returns or throws.
 * C++ exceptions, which arrive as bare numbers, leave as an `Error` with OpenCV's own message.
 * @param work gets the OpenCV module and `keep`; whatever `keep` was given is deleted when `work` ends
 */
export function withMats<T>(work: (cv: OpenCv, keep: Keep) => T): T {
  const { cv, translate } = load();
  const kept: Deletable[] = [];
  const keep: Keep = (object) => {
    kept.push(object);
    return object;
  };
  try {
    return work(cv, keep);
  } catch (thrown) {
    if (thrown instanceof Error) throw thrown;
    throw new Error(`OpenCV: ${String(translate(cv, thrown as number)).trim()}`);
  } finally {
    for (const object of kept.reverse()) object.delete();
  }
}
