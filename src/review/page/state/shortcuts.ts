import { useEffect } from "preact/hooks";

/** Ctrl+Z and Ctrl+Y (or Ctrl+Shift+Z), except while something is being typed. */
export function useShortcuts(undo: (() => void) | null, redo: (() => void) | null): void {
  useEffect(() => {
    const pressed = (event: KeyboardEvent) => {
      if (!(event.ctrlKey || event.metaKey) || event.altKey || event.target instanceof HTMLInputElement) return;
      const key = event.key.toLowerCase();
      const does = key === "y" || (key === "z" && event.shiftKey) ? redo : key === "z" ? undo : undefined;
      if (does === undefined) return;
      event.preventDefault();
      does?.();
    };
    addEventListener("keydown", pressed);
    return () => removeEventListener("keydown", pressed);
  }, [undo, redo]);
}
