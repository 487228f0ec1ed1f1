import { Command } from "commander";
import { asked } from "../bench/asked.ts";
import { type ReadingFlags, withReadingOptions } from "../reading/options.ts";

/** `platepool writeup FOLDER` */
export function writeupCommand(): Command {
  return withReadingOptions(
    new Command("writeup")
      .description("write the paragraph for the notebook, tables of everything, and an .eln archive of the run")
      .argument("<folder>", "run folder"),
  ).action((folder: string, flags: ReadingFlags) =>
    asked(async () => {
      const { writeup } = await import("../bench/writeup.ts");
      return writeup(folder, flags);
    }),
  );
}
