import type { Finding } from "../../model/index.ts";
import type { AlarmInput } from "./alarmInput.ts";
import { columnAlarms } from "./columnAlarms.ts";
import { tubeAlarms } from "./tubeAlarms.ts";

/** What a good supervisor would point at, in a steady order. */
export function alarms(input: AlarmInput): Finding[] {
  return [...columnAlarms(input), ...tubeAlarms(input)];
}
