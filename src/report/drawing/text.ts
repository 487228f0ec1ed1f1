/** Mean advance of a letter over the font's size for usual sans-serif faces, on the wide side. */
const ADVANCE = 0.57;
const BOLD = 1.06;

/** About how wide a line of text will be, in the unit of `fontSize`; drawings cannot measure the reader's font. */
export function textWidth(text: string, fontSize: number, bold = false): number {
  return [...text].length * ADVANCE * fontSize * (bold ? BOLD : 1);
}

/** The text, cut off with an ellipsis where it would be wider than `width`. */
export function fitText(text: string, width: number, fontSize: number, bold = false): string {
  if (textWidth(text, fontSize, bold) <= width) return text;
  const room = Math.max(1, Math.floor(width / (ADVANCE * fontSize * (bold ? BOLD : 1))) - 1);
  return `${[...text].slice(0, room).join("")}…`;
}

/**
 * Heights for labels that want to stand at `wanted` (ascending), moved apart until neighbours are `gap` away, and kept
 * below `top` and above `bottom` as far as there is room.
 */
export function spreadLabels(wanted: readonly number[], gap: number, top: number, bottom: number): number[] {
  const y = [...wanted];
  for (let i = 0; i < y.length; i++) y[i] = Math.max(y[i], i === 0 ? top : y[i - 1] + gap);
  for (let i = y.length - 1; i >= 0; i--) y[i] = Math.min(y[i], i === y.length - 1 ? bottom : y[i + 1] - gap);
  return y;
}

/** Cuts `n` places into rows of at most `most`, as even as they come: [start, end) pairs. */
export function evenRows(n: number, most: number): [start: number, end: number][] {
  const rows = Math.max(1, Math.ceil(n / Math.max(1, most)));
  const each = Math.ceil(n / rows);
  return Array.from({ length: rows }, (_, i) => [Math.min(n, i * each), Math.min(n, (i + 1) * each)]);
}
