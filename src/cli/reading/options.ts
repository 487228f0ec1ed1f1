import { availableParallelism } from "node:os";
import { type Command, InvalidArgumentError, Option } from "commander";
import { FRONT_SIDES, type ReadSettings } from "../../model/index.ts";

/** Options that every command which reads photos takes. */
export interface ReadingFlags extends Pick<ReadSettings, "policy" | "up"> {
  readonly want?: string;
  readonly workers: number;
  readonly quiet?: boolean;
}

export function withReadingOptions(command: Command): Command {
  return command
    .addOption(
      new Option("--policy <policy>", "what matters when tubes are pooled")
        .choices(["purity", "balance", "recovery"])
        .default("balance"),
    )
    .addOption(
      new Option("--up <side>", "where the solvent front points in the photos, if it is not seen by itself").choices(
        FRONT_SIDES,
      ),
    )
    .option("--want <component>", "the component you are after: its letter, or its Rf")
    .addOption(
      new Option("--workers <number>", "threads that read photos side by side")
        .argParser(wholeNumber)
        .default(Math.min(8, availableParallelism()), "one per core"),
    )
    .option("-q, --quiet", "no progress and no summary; warnings still come");
}

export function settingsOf({ policy, want, up }: ReadingFlags): ReadSettings {
  return { policy, want: want ?? null, up };
}

function wholeNumber(text: string): number {
  const number = Number(text);
  if (!Number.isInteger(number) || number < 1 || number > 64)
    throw new InvalidArgumentError("It must be from 1 to 64.");
  return number;
}
