import { Command } from "commander";
import { divideCommands, jotCommand, pastCommands } from "./commands/decide.ts";
import { demoCommand } from "./commands/demo.ts";
import { planCommand } from "./commands/plan.ts";
import { readCommand } from "./commands/read.ts";
import { reviewCommand } from "./commands/review.ts";
import { scoutCommand } from "./commands/scout.ts";
import { sheetCommand } from "./commands/sheet.ts";
import { watchCommand } from "./commands/watch.ts";
import { weighCommand } from "./commands/weigh.ts";
import { writeupCommand } from "./commands/writeup.ts";
import { version } from "./version.ts";

/** The program: a list of its commands. */
export function program(): Command {
  const platepool = new Command("platepool")
    .description("Reads photos of TLC plates and proposes which tubes of a column to combine.")
    .version(version())
    .addCommand(readCommand())
    .addCommand(demoCommand())
    .addCommand(reviewCommand())
    .addCommand(watchCommand())
    .addCommand(scoutCommand())
    .addCommand(planCommand())
    .addCommand(sheetCommand())
    .addCommand(weighCommand())
    .addCommand(writeupCommand())
    .addCommand(jotCommand());
  for (const command of [...divideCommands(), ...pastCommands()]) platepool.addCommand(command);
  return platepool;
}
