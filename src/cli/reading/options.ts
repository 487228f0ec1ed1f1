import { availableParallelism } from "node:os";
import { type Command, InvalidArgumentError, Option } from "commander";
import { FRONT_SIDES, POLICIES, type ReadSettings } from "../../model/index.ts";

/** Options that every command which reads photos takes; what was not typed is left out. */
export interface ReadingFlags extends Partial<Pick<ReadSettings, "policy" | "up">> {
  readonly want?: string;
  readonly workers: number;
  readonly quiet?: boolean;
}

export function withReadingOptions(command: Command): Command {
  return command
    .addOption(
      new Option("--policy <policy>", "what matters when tubes are pooled (default: balance)").choices(POLICIES),
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
        .default(Math.min(8, Math.ceil(availableParallelism() / 2)), "one per two cores: each keeps nearly two busy"),
    )
    .option("-q, --quiet", "no progress and no summary; warnings still come");
}

/**
 * What a reading is set to.
 * @param earlier settings that stand for what was not typed; left out: the usual ones
 */
export function settingsOf({ policy, want, up }: ReadingFlags, earlier: ReadSettings | null = null): ReadSettings {
  return { policy: policy ?? earlier?.policy ?? "balance", want: want ?? earlier?.want ?? null, up: up ?? earlier?.up };
}

/** True where something was typed that an earlier reading was not set to. */
export function asksOtherwise({ policy, want, up }: ReadingFlags, settings: ReadSettings | null): boolean {
  const differs = (typed: string | undefined, was: string | null | undefined) => typed !== undefined && typed !== was;
  return differs(policy, settings?.policy) || differs(want, settings?.want) || differs(up, settings?.up);
}

function wholeNumber(text: string): number {
  const number = Number(text);
  if (!Number.isInteger(number) || number < 1 || number > 64)
    throw new InvalidArgumentError("It must be from 1 to 64.");
  return number;
}
