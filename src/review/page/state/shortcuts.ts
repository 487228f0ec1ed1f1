import { useEffect, useRef } from "preact/hooks";

/** Ctrl+Z and Ctrl+Y (or Ctrl+Shift+Z), except while something is being typed. */
export function useShortcuts(undo: (() => void) | null, redo: (() => void) | null): void {
  const now = useRef({ undo, redo });
  now.current = { undo, redo };
  useEffect(() => {
    const pressed = (event: KeyboardEvent) => {
      if (!(event.ctrlKey || event.metaKey) || event.altKey || event.target instanceof HTMLInputElement) return;
      const key = event.key.toLowerCase();
      const { undo, redo } = now.current;
      const does = key === "y" || (key === "z" && event.shiftKey) ? redo : key === "z" ? undo : undefined;
      if (does === undefined) return;
      event.preventDefault();
      does?.();
    };
    addEventListener("keydown", pressed);
    return () => removeEventListener("keydown", pressed);
  }, []);
}
