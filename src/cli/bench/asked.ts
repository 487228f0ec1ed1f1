import { PlatepoolError } from "../../model/index.ts";
import { EXIT, linesOf, say } from "../terminal/runProgram.ts";

/**
 * Runs what a command was asked for. What was typed wrongly, or cannot be, is told in one line and ends with the status
 * of a wrong call.
 */
export async function asked(action: () => Promise<number>): Promise<void> {
  try {
    process.exitCode = await action();
  } catch (error) {
    if (!(error instanceof PlatepoolError)) throw error;
    for (const line of linesOf(error)) say(line);
    process.exitCode = EXIT.wrongCall;
  }
}

/** Lines on standard output. */
export function print(lines: readonly string[]): void {
  process.stdout.write(`${lines.join("\n")}\n`);
}
