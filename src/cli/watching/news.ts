import type { GroupReading, RunReading } from "../../pipeline/index.ts";
import { doubtLines, poolLines } from "../reading/tell.ts";
import { debug, say } from "../terminal/runProgram.ts";

/** Tells on the terminal what is new since the last time. */
export interface NewsTeller {
  /** A photo that cannot be read is told while the plate is still wet. */
  group(group: GroupReading): void;
  run(reading: RunReading): void;
}

/** @param quiet true: warnings only */
export function tellNews(quiet: boolean): NewsTeller {
  let told = new Set<string>();
  let pools = "";
  return {
    group({ photos, crashes }) {
      for (const { file, reason } of photos) {
        if (reason === null) continue;
        const line = reason.includes(file) ? reason : `${file}: not read: ${reason}`;
        if (!told.has(line)) say(line);
        told.add(line);
      }
      for (const crash of crashes) debug(crash);
    },
    run({ result, plates }) {
      const lines = doubtLines(result);
      for (const line of lines) if (!told.has(line)) say(line);
      told = new Set(lines);
      const now = poolLines(result).join("\n");
      if (quiet || plates.length === 0 || now === pools) return;
      pools = now;
      process.stdout.write(`${now}\n`);
    },
  };
}
