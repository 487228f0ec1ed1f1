import type { PlateReading } from "../../model/index.ts";
import type { TubeBelief } from "../belief.ts";
import type { Grouping } from "../grouping.ts";

/** What alarms are judged by. */
export interface AlarmInput {
  readonly plates: readonly PlateReading[];
  readonly grouping: Grouping;
  readonly tubes: readonly TubeBelief[];
  /** [component][tube - 1] amount as measured, 0 where nothing shows, null where nobody spotted. */
  readonly measured: readonly (readonly (number | null)[])[];
  /** Tail over width of each component's fitted peak, null where none fits. */
  readonly tailing: readonly (number | null)[];
  /** Chance that plates were misread, mean over the tubes, a poor look at them left aside. */
  readonly misread: number;
  /** Scatter of amounts about their peaks, log scale, the largest of the components. */
  readonly scatter: number;
}
