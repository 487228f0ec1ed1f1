import { Command, InvalidArgumentError } from "commander";
import { withReadingOptions } from "../reading/options.ts";
import type { ReviewFlags } from "../watching/review.ts";

/** `platepool review FOLDER` */
export function reviewCommand(): Command {
  return withReadingOptions(
    new Command("review")
      .description("open the page on which pools are accepted or changed, and readings set right")
      .argument("<folder>", "folder with the photos")
      .option("--port <number>", "port of the page's server on this computer", portNumber, 0)
      .option("--no-open", "print the link, open no browser"),
  ).action(async (folder: string, flags: ReviewFlags) => {
    const { review } = await import("../watching/review.ts");
    process.exitCode = await review(folder, flags);
  });
}

function portNumber(text: string): number {
  const port = Number(text);
  if (!Number.isInteger(port) || port < 0 || port > 65_535)
    throw new InvalidArgumentError("It must be from 0 (any that is free) to 65535.");
  return port;
}
