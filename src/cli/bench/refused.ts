import { PlatepoolError } from "../../model/index.ts";
import { appendBench } from "../../store/index.ts";

/** Options of a call as they were typed: "pool P3, tare 45.2g". */
export function typedText(options: Readonly<Record<string, unknown>>): string {
  return Object.entries(options)
    .filter(([, value]) => value !== undefined)
    .map(([name, value]) => `${name} ${Array.isArray(value) ? value.join(" | ") : String(value)}`)
    .join(", ");
}

/**
 * Does what was typed; where that cannot be, keeps it in the bench book as refused, with the reason, so that nothing
 * typed is lost, and throws on.
 */
export async function keepingRefused<T>(folder: string, typed: string, work: () => T): Promise<T> {
  try {
    return work();
  } catch (error) {
    if (!(error instanceof PlatepoolError) || typed === "") throw error;
    await appendBench(folder, [{ kind: "refused", typed, why: error.message }], new Date().toISOString());
    throw new PlatepoolError(error.code, `${error.message} (kept in the bench book as refused; it does not count)`);
  }
}
