import { Command } from "commander";
import { type ReadingFlags, withReadingOptions } from "../reading/options.ts";

/** `platepool demo FOLDER` */
export function demoCommand(): Command {
  return withReadingOptions(
    new Command("demo")
      .description("make a run of invented photos (24 tubes of a chalcone column) and read it")
      .argument("<folder>", "folder to make; one that holds anything of yours is left alone"),
  ).action(async (folder: string, flags: ReadingFlags) => {
    const { demo } = await import("../reading/demo.ts");
    process.exitCode = await demo(folder, flags);
  });
}
