import { Command } from "commander";
import { asked } from "../bench/asked.ts";
import { type ReadingFlags, withReadingOptions } from "../reading/options.ts";

/** `platepool scout FOLDER` */
export function scoutCommand(): Command {
  return withReadingOptions(
    new Command("scout")
      .description("compare eluents from photos of scouting plates and say what to try next")
      .argument("<folder>", "folder with the photos, and run.yaml naming the eluent of each plate")
      .option("--json", "print the comparison on standard output and write nothing"),
  ).action((folder: string, flags: ReadingFlags & { json?: boolean }) =>
    asked(async () => {
      const { scout } = await import("../bench/scout.ts");
      return scout(folder, flags);
    }),
  );
}
