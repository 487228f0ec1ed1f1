import { useState } from "preact/hooks";
import type { PageState } from "../../api.ts";
import type { View } from "../state/desk.ts";
import { Icon } from "./icon.tsx";
import { applyTheme, storedTheme, storeTheme, THEMES, type Theme } from "./theme.ts";

export interface HeaderProps {
  readonly view: View;
  readonly onUndo: (() => void) | null;
  readonly onRedo: (() => void) | null;
  readonly onHistory: () => void;
  readonly onRetry: () => void;
}

/** Which run it is, whether all is safe, and the way back. */
export function Header({ view, onUndo, onRedo, onHistory, onRetry }: HeaderProps) {
  const { state } = view;
  return (
    <header class="head">
      <div class="who">
        <h1>{state.result?.run ?? state.folder}</h1>
        <p class={`facts${state.reading.busy ? " busy" : ""}`}>{factsOf(state)}</p>
      </div>
      <Safety view={view} onRetry={onRetry} />
      <div class="tools">
        <button
          type="button"
          class="tool"
          onClick={onUndo ?? undefined}
          disabled={onUndo === null}
          title="Undo (Ctrl+Z)"
        >
          <Icon name="undo" />
          <span>Undo</span>
        </button>
        <button
          type="button"
          class="tool"
          onClick={onRedo ?? undefined}
          disabled={onRedo === null}
          title="Redo (Ctrl+Y)"
        >
          <Icon name="redo" />
          <span>Redo</span>
        </button>
        <button type="button" class="tool" onClick={onHistory}>
          <Icon name="history" />
          <span>History</span>
        </button>
        <ThemeChoice />
      </div>
    </header>
  );
}

function factsOf({ result, reading }: PageState): string {
  if (reading.busy) return `reading photos: ${reading.done} of ${reading.of}`;
  if (result === null) return "nothing read yet";
  const parts = [count(result.fractions.length, "tube"), count(result.plates.length, "plate")];
  const read = result.photos.filter((p) => p.status === "read").length;
  return [...parts, `${read} of ${count(result.photos.length, "photo")} read`].join(" · ");
}

function count(n: number, noun: string): string {
  return `${n} ${noun}${n === 1 ? "" : "s"}`;
}

/** Saved, or not yet, or in trouble: in words, never in colour alone. */
function Safety({ view, onRetry }: { readonly view: View; readonly onRetry: () => void }) {
  const { keeping, connected, state } = view;
  const waiting = keeping.waiting.length;
  const [kind, words] =
    waiting > 0 && keeping.trouble !== null
      ? (["lost", `${count(waiting, "act")} not saved: ${keeping.trouble}`] as const)
      : waiting > 0
        ? (["busy", "Saving…"] as const)
        : !connected
          ? (["lost", "platepool does not answer. Is it still running?"] as const)
          : state.catchingUp
            ? (["busy", "Saved; working out what follows…"] as const)
            : (["safe", state.last === 0 ? "Nothing decided yet" : "All saved"] as const);
  return (
    <div class={`safety ${kind}`} role="status" data-safety={kind}>
      <span class="lamp" aria-hidden="true">
        {kind === "safe" ? "✓" : kind === "busy" ? "…" : "!"}
      </span>
      <span>{words}</span>
      {kind === "lost" && waiting > 0 && (
        <button type="button" onClick={onRetry}>
          Try again
        </button>
      )}
    </div>
  );
}

const THEME_WORDS: Readonly<Record<Theme, string>> = { system: "As system", light: "Light", dark: "Dark" };

function ThemeChoice() {
  const [theme, setTheme] = useState<Theme>(storedTheme);
  const next = THEMES[(THEMES.indexOf(theme) + 1) % THEMES.length];
  const turn = () => {
    setTheme(next);
    applyTheme(next);
    storeTheme(next);
  };
  return (
    <button
      type="button"
      class="tool"
      onClick={turn}
      aria-label={`Colours: ${THEME_WORDS[theme]}. Change to ${THEME_WORDS[next]}`}
    >
      <Icon name="light" />
      <span>{THEME_WORDS[theme]}</span>
    </button>
  );
}
