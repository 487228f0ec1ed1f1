import type { Interval, Result } from "../../model/index.ts";
import { tubesInWords } from "../../pipeline/index.ts";

/** How the tubes are divided, a line a pool: decided where anything was, else suggested; then what contradicts it. */
export function divisionLines(result: Result): string[] {
  const decided = result.decisions?.pools ?? null;
  const pools = decided ?? result.pools.map((p) => ({ ...p, accepted: false }));
  const lines = pools.map((p) => {
    const held = p.components.length > 0 ? ` ${p.components.join(" + ")}` : "";
    const purity = p.kind === "empty" ? "" : `, purity ${percent(p.purity)}`;
    const volume = p.volume_ml === null ? "" : `, ${Number(p.volume_ml.toPrecision(3))} mL`;
    return `${p.id}: ${p.kind}${held}, ${tubesInWords(p.fractions)}${purity}${volume}, ${p.accepted ? "accepted" : "open"}`;
  });
  const caution = pools.some((p) => p.kind === "clean") ? ["One spot is never proof of purity."] : [];
  return [...lines, ...caution];
}

function percent({ low, mid, high }: Interval): string {
  const whole = (share: number) => Math.round(100 * share);
  return `${whole(mid)} % (${whole(low)}-${whole(high)})`;
}
