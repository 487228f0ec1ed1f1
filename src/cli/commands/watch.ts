import { Command } from "commander";
import { type ReadingFlags, withReadingOptions } from "../reading/options.ts";

/** `platepool watch FOLDER` */
export function watchCommand(): Command {
  return withReadingOptions(
    new Command("watch")
      .description("read photos as they arrive in a run folder, until Ctrl-C")
      .argument("<folder>", "folder that the photos come into"),
  ).action(async (folder: string, flags: ReadingFlags) => {
    const { watch } = await import("../watching/watch.ts");
    process.exitCode = await watch(folder, flags);
  });
}
