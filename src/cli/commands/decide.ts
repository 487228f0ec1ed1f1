import { Command, Option } from "commander";
import { asked } from "../bench/asked.ts";
import type { MoveFlags } from "../decide/divide.ts";
import type { JotFlags } from "../decide/jot.ts";
import { type ReadingFlags, withReadingOptions } from "../reading/options.ts";

const FOLDER = "run folder";
/** As `SAID_FIELDS`, whose room is not loaded for `--help`. */
const SAID: readonly JotField[] = ["volume", "eluent", "flask", "note"];
type JotField = NonNullable<JotFlags["strike"]>[number];

function command(name: string, description: string): Command {
  return withReadingOptions(new Command(name).description(description).argument("<folder>", FOLDER));
}

/** Commands by which a person divides the tubes; each is an act in FOLDER/decisions.jsonl. */
export function divideCommands(): Command[] {
  const load = () => import("../decide/divide.ts");
  return [
    command("accept", "say yes to the pools as they stand: all, or those named")
      .argument("[pools...]", "names of pools")
      .action((folder: string, pools: string[], flags: ReadingFlags) =>
        asked(async () => (await load()).accept(folder, pools, flags)),
      ),
    command("reopen", "take the yes back from accepted pools; the others stay accepted")
      .argument("<pools...>", "names of pools")
      .action((folder: string, pools: string[], flags: ReadingFlags) =>
        asked(async () => (await load()).reopen(folder, pools, flags)),
      ),
    command("move", "move tubes into another pool")
      .argument("<tubes>", "a tube, a range, or several: 7 or 7-9 or 7,9-11")
      .option("--to <pool>", "the pool they belong to")
      .option("--apart", "into a pool of their own")
      .action((folder: string, tubes: string, flags: MoveFlags) =>
        asked(async () => (await load()).move(folder, tubes, flags)),
      ),
    command("split", "cut a pool in two")
      .argument("<pool>", "name of the pool")
      .argument("<tube>", "first tube of the new pool")
      .action((folder: string, pool: string, tube: string, flags: ReadingFlags) =>
        asked(async () => (await load()).split(folder, pool, tube, flags)),
      ),
    command("merge", "make one pool of several, under the name of the first")
      .argument("<pools...>", "names of pools")
      .action((folder: string, pools: string[], flags: ReadingFlags) =>
        asked(async () => (await load()).merge(folder, pools, flags)),
      ),
    command("name", "give a pool another name")
      .argument("<pool>", "name of the pool")
      .argument("<to>", "its new name")
      .action((folder: string, pool: string, to: string, flags: ReadingFlags) =>
        asked(async () => (await load()).name(folder, pool, to, flags)),
      ),
  ];
}

/** `platepool jot FOLDER [TUBES]` */
export function jotCommand(): Command {
  return command(
    "jot",
    "write into the tube log: volumes, changes of eluent and flask, notes; without options, tell it",
  )
    .argument("[tubes]", "a tube or a range: 7 or 7-9")
    .option("--volume <volume>", "what each of them holds: 12.5 or 12.5mL")
    .option("--eluent <eluent>", "what runs from the first of them on: hexane/EtOAc 3:1")
    .option("--flask <flask>", "what is collected into from the first of them on")
    .option("--note <text>", "anything else about them")
    .addOption(new Option("--strike <what...>", "say this of them no more").choices(SAID))
    .action((folder: string, tubes: string | undefined, flags: JotFlags) =>
      asked(async () => (await import("../decide/jot.ts")).jot(folder, tubes, flags)),
    );
}

/** Commands that look back: nothing is erased, an undo is an act too. */
export function pastCommands(): Command[] {
  const load = () => import("../decide/past.ts");
  const back = (kind: "undo" | "redo", description: string) =>
    command(kind, description).action((folder: string, flags: ReadingFlags) =>
      asked(async () => (await load()).undoOrRedo(folder, kind, flags)),
    );
  return [
    back("undo", "take back the last decision that stands"),
    back("redo", "bring back what was undone last"),
    command("return", "bring back the state right after an earlier act")
      .argument("<act>", "its number in the history; 0: before the first")
      .action((folder: string, act: string, flags: ReadingFlags) =>
        asked(async () => (await load()).returnTo(folder, act, flags)),
      ),
    new Command("history")
      .description("list what was decided, with times; what was taken back is in brackets")
      .argument("<folder>", FOLDER)
      .action((folder: string) => asked(async () => (await load()).history(folder))),
  ];
}
