import { Command, Option } from "commander";
import { asked } from "../bench/asked.ts";
import type { PlanFlags } from "../bench/planFlags.ts";
import { withReadingOptions } from "../reading/options.ts";

const several = (value: string, before: readonly string[] = []) => [...before, value];

/** Options that say how the rack stands and is filled. */
export function withRackOptions(command: Command): Command {
  return command
    .option("--rack <rows x columns>", "the rack, such as 4x10")
    .addOption(
      new Option("--fill <way>", "how the rack is filled").choices([
        "rows",
        "serpentine",
        "columns",
        "columns-serpentine",
      ]),
    )
    .addOption(
      new Option("--start <corner>", "where tube 1 stands").choices([
        "top-left",
        "top-right",
        "bottom-left",
        "bottom-right",
      ]),
    );
}

/** `platepool plan [FOLDER]` */
export function planCommand(): Command {
  const command = new Command("plan")
    .description("plan a column from a plate or typed Rf values; with the tubes read, hold the plan against them")
    .argument("[folder]", "run folder; without one the plan is printed")
    .option("--load <mass>", "what goes on the column, with its unit: 250mg, 1.2g")
    .option("--rf <values>", "Rf of the components: A=0.42,B=0.30")
    .option("--eluent <eluent>", 'such as "hexane/ethyl acetate 4:1"')
    .option("--step <step>", 'a later eluent: "160mL; hexane/ethyl acetate 1:1; A=0.9,B=0.8"; may be repeated', several)
    .option("--diameter <length>", "inner diameter of the column: 20mm")
    .option("--bed <length>", "height of the bed: 15cm")
    .option("--fraction <volume>", "volume of a tube: 10mL")
    .option("--hold-up <volume>", "hold-up volume as measured: 36mL")
    .option("--forerun <volume>", "let through before tube 1: 30mL")
    .addOption(new Option("--sorbent <sorbent>", "what the bed is made of").choices(["silica", "alumina"]))
    .option("--gravity", "no gas pressure")
    .option("--again [pool]", "plan the second column of a mixed pool")
    .option("--json", "print the plan as JSON")
    .option("--out <file>", "write the page there, where no folder is named");
  return withReadingOptions(withRackOptions(command)).action((folder: string | undefined, flags: PlanFlags) =>
    asked(async () => {
      const { plan } = await import("../bench/plan.ts");
      return plan(folder, flags);
    }),
  );
}
