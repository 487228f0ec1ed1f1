import type { LaneName } from "../../model/index.ts";

/** Tubes of a column are counted in tens; a larger number is a slip of the finger. */
export const MAX_TUBE = 2000;

/** One entry of `lanes:` spelled out: a number is a fraction, "a-b" a range of them, any other word a reference lane. */
export function spellLane(entry: string | number): { lanes: LaneName[] } | { fault: string } {
  if (typeof entry === "number") return tube(entry);
  const word = entry.trim();
  if (/^[+-]?\d+(\.\d+)?$/.test(word)) return tube(Number(word));
  const range = /^(\d+)\s*[-–]\s*(\d+)$/.exec(word);
  if (range !== null) return tubes(Number(range[1]), Number(range[2]));
  const nearly = /^(\d+)\s*(?:\.\.+|:|to|—|…)\s*(\d+)$/i.exec(word);
  if (nearly !== null) return { fault: `"${word}" is no range: write ${nearly[1]}-${nearly[2]}` };
  if (word === "") return { fault: "a lane without a name: write the tube's number, or a word such as blank" };
  return { lanes: [{ label: word, fraction: null }] };
}

function tube(number: number): { lanes: LaneName[] } | { fault: string } {
  if (!Number.isInteger(number) || number < 1) return { fault: `${number} is no tube: tubes are counted 1, 2, 3, ...` };
  if (number > MAX_TUBE)
    return { fault: `tube ${number} is more than the ${MAX_TUBE} that are counted: check the number` };
  return { lanes: [{ label: String(number), fraction: number }] };
}

function tubes(first: number, last: number): { lanes: LaneName[] } | { fault: string } {
  if (first > last)
    return {
      fault: `the range ${first}-${last} runs backwards: write ${last}-${first}, or the tubes one by one as they stand`,
    };
  if (first < 1) return { fault: `the range ${first}-${last} begins below 1: tubes are counted 1, 2, 3, ...` };
  if (last > MAX_TUBE || last - first >= 200)
    return { fault: `the range ${first}-${last} is longer than any plate: check the numbers` };
  return {
    lanes: Array.from({ length: last - first + 1 }, (_, i) => ({ label: String(first + i), fraction: first + i })),
  };
}
