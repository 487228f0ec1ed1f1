import { Command } from "commander";
import { asked } from "../bench/asked.ts";
import type { SheetFlags } from "../bench/sheet.ts";
import { withReadingOptions } from "../reading/options.ts";
import { withRackOptions } from "./plan.ts";

/** `platepool sheet FOLDER` */
export function sheetCommand(): Command {
  const command = new Command("sheet")
    .description("write the bench sheet: rack, pools, flasks, what to run again and what to keep; one A4 page")
    .argument("<folder>", "run folder")
    .option("--racks <number>", "racks at hand")
    .option("--largest-flask <volume>", "largest flask at hand: 500mL");
  return withReadingOptions(withRackOptions(command)).action((folder: string, flags: SheetFlags) =>
    asked(async () => {
      const { sheet } = await import("../bench/sheet.ts");
      return sheet(folder, flags);
    }),
  );
}
