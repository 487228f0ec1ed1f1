import { type Command, CommanderError } from "commander";
import { PlatepoolError } from "../../model/error.ts";

/** Exit status: the run was read; nothing could be read; the call or the run file is wrong (docs/conventions.md). */
export const EXIT = { read: 0, nothing: 1, wrongCall: 2 } as const;

/** Errors that mean that the call, the run file or the journal of decisions is wrong. */
const WRONG_CALL = /^(folder|run-file|option|demo-folder|decisions-format)/;

/**
 * Runs a command and turns whatever it throws into one line and an exit status. The status is set, not forced, so that
 * output still in the pipe gets out.
 */
export async function runProgram(command: Command, argv: readonly string[]): Promise<void> {
  endQuietlyWhenNobodyReads();
  for (const each of [command, ...command.commands])
    each.exitOverride().configureOutput({ outputError: (text, write) => write(oneLine(text)) });
  try {
    await command.parseAsync(argv);
  } catch (error) {
    process.exitCode = statusOf(error);
  }
}

function statusOf(error: unknown): number {
  if (error instanceof CommanderError) return error.exitCode === 0 ? EXIT.read : EXIT.wrongCall;
  if (error instanceof PlatepoolError) {
    for (const line of linesOf(error)) say(line);
    return WRONG_CALL.test(error.code) ? EXIT.wrongCall : EXIT.nothing;
  }
  say("platepool: something unexpected went wrong; please report it (PLATEPOOL_DEBUG=1 shows more)");
  debug(error instanceof Error ? (error.stack ?? error.message) : String(error));
  return EXIT.nothing;
}

/** What an error says: one line, or for a wrong run file one for each fault. Known without loading the store. */
export function linesOf(error: PlatepoolError): readonly string[] {
  return "faults" in error ? (error.faults as readonly string[]) : [error.message];
}

/** One line for the user. Line breaks and control characters (a file name may hold them) become visible. */
export function say(line: string): void {
  process.stderr.write(`${printable(line)}\n`);
}

/** For those who look for a fault in the program. */
export function debug(text: string): void {
  if (process.env["PLATEPOOL_DEBUG"]) process.stderr.write(`${text}\n`);
}

function printable(line: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is looked for
  return line.replace(/[\u0000-\u001f\u007f-\u009f]/g, (c) => `\\x${c.charCodeAt(0).toString(16).padStart(2, "0")}`);
}

function oneLine(text: string): string {
  return `platepool: ${text
    .replace(/^error: /, "")
    .trim()
    .split("\n")
    .join(" ")}: see platepool --help\n`;
}

/** `platepool read run --json | head` closes the pipe early; that is no fault. */
function endQuietlyWhenNobodyReads(): void {
  for (const stream of [process.stdout, process.stderr])
    stream.on("error", (error: NodeJS.ErrnoException) => {
      if (error.code === "EPIPE") process.exit(process.exitCode ?? EXIT.read);
      throw error;
    });
}
