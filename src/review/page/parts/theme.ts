export const THEMES = ["system", "light", "dark"] as const;
export type Theme = (typeof THEMES)[number];

const KEY = "platepool-theme";

/** The theme chosen on this computer before; the system's where none was. */
export function storedTheme(): Theme {
  try {
    const stored = localStorage.getItem(KEY);
    return THEMES.find((t) => t === stored) ?? "system";
  } catch {
    return "system";
  }
}

export function applyTheme(theme: Theme): void {
  if (theme === "system") delete document.documentElement.dataset["theme"];
  else document.documentElement.dataset["theme"] = theme;
}

export function storeTheme(theme: Theme): void {
  try {
    localStorage.setItem(KEY, theme);
  } catch {
    // A browser that keeps nothing shows the theme all the same.
  }
}
