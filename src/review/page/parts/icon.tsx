const PATHS = {
  undo: "M9 5 4 10l5 5M4.5 10H14a5 5 0 0 1 0 10h-3",
  redo: "m15 5 5 5-5 5M19.5 10H10a5 5 0 0 0 0 10h3",
  history: "M12 7v5l3.5 2M4 12a8 8 0 1 0 2.6-5.9M4 4v4h4",
  check: "m5 12.5 4.5 4.5L19 7.5",
  next: "M5 12h13M13 6.5l5.5 5.5-5.5 5.5",
  back: "M19 12H6m5-5.5L5.5 12l5.5 5.5",
  close: "M6 6l12 12M18 6 6 18",
  plate: "M6 3h12v18H6zM6 17.5h12",
  light:
    "M12 3v2m0 14v2M3 12h2m14 0h2M5.6 5.6 7 7m10 10 1.4 1.4m0-12.8L17 7M7 17l-1.4 1.4M12 8a4 4 0 1 0 0 8 4 4 0 0 0 0-8z",
  split: "M12 4v16M4 12h4m8 0h4M6 10l-2 2 2 2m12-4 2 2-2 2",
  join: "M4 12h6m10 0h-6M8 10l2 2-2 2m8-4-2 2 2 2M12 4v16",
  pencil: "M5 19l1-4L16 5l3 3L9 18zM13.5 7.5l3 3",
  plus: "M12 5v14M5 12h14",
  warn: "M12 4 21 20H3zM12 10v4.5m0 2.2v.3",
} as const;

export type IconName = keyof typeof PATHS;

/** A line drawing beside or in place of a word; the word itself stands in the text or the label. */
export function Icon({ name }: { readonly name: IconName }) {
  return (
    <svg class="icon" viewBox="0 0 24 24" width="22" height="22" aria-hidden="true" focusable="false">
      <path
        d={PATHS[name]}
        fill="none"
        stroke="currentColor"
        stroke-width="1.8"
        stroke-linecap="round"
        stroke-linejoin="round"
      />
    </svg>
  );
}
