import { Command } from "commander";
import { asked } from "../bench/asked.ts";
import type { WeighFlags } from "../bench/weigh.ts";
import { withReadingOptions } from "../reading/options.ts";

/** `platepool weigh FOLDER` */
export function weighCommand(): Command {
  return withReadingOptions(
    new Command("weigh")
      .description("weigh the pools in: mass, recovery, balance, yield; without options, the balance so far")
      .argument("<folder>", "run folder")
      .option("--pool <pool>", "pool in the flask")
      .option("--flask <name>", "tells several flasks of one pool apart", "1")
      .option("--tare <mass>", "the empty flask, with its unit: 45.1234g")
      .option("--gross <mass>", "the flask with the dry pool: 45.1714g")
      .option("--strike", "take the weighing of that pool and flask back")
      .option("--load <mass>", "what went on the column: 250mg")
      .option("--component <component>", "the product: its letter in the reading, or its name")
      .option("--molar-mass <g/mol>", "molar mass of the product")
      .option("--limiting <amount>", "amount of the limiting reagent: 1.2mmol")
      .option("--ratio <number>", "moles of product per mole of limiting reagent")
      .option("--json", "print the balance as JSON"),
  ).action((folder: string, flags: WeighFlags) =>
    asked(async () => {
      const { weigh } = await import("../bench/weigh.ts");
      return weigh(folder, flags);
    }),
  );
}
