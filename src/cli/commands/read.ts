import { Command } from "commander";
import { type ReadingFlags, withReadingOptions } from "../reading/options.ts";

/** `platepool read FOLDER` */
export function readCommand(): Command {
  return withReadingOptions(
    new Command("read")
      .description("read the photos of a run folder and write results/ beside them")
      .argument("<folder>", "folder with the photos, and run.yaml where there is one")
      .option("--json", "print the result on standard output and write nothing"),
  ).action(async (folder: string, flags: ReadingFlags & { json?: boolean }) => {
    // Loaded here, so that --help need not wait for what only reading needs.
    const { read } = await import("../reading/read.ts");
    process.exitCode = await read(folder, flags, { json: flags.json ?? false });
  });
}
