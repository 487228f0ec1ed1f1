import { useEffect, useRef, useState } from "preact/hooks";
import { type EntryField, parseEntry, type SaidField, type TypedEntry } from "../../../decisions/index.ts";
import type { TubeEntry } from "../../../model/index.ts";
import type { PageState } from "../../api.ts";
import { Sheet } from "../parts/sheet.tsx";
import type { Keeping } from "../state/keeper.ts";
import { sentence } from "../state/words.ts";
import { LogLines } from "./logLines.tsx";

export interface LogSheetProps {
  readonly state: PageState;
  readonly keeping: Keeping;
  /** Numbers of the run's tubes. */
  readonly tubes: readonly number[];
  /** The tube that was in hand. */
  readonly about: number | null;
  /** What was typed and not sent before the log was closed: a slip of the hand loses nothing. */
  readonly draft: { current: TypedEntry | null };
  readonly onWrite: (entry: TubeEntry) => void;
  readonly onRetry: () => void;
  readonly onClose: () => void;
}

const FIELDS: readonly { readonly field: EntryField; readonly label: string; readonly hint: string }[] = [
  { field: "tubes", label: "Tubes", hint: "7 or 7-9" },
  { field: "volume", label: "Volume, mL", hint: "as it is" },
  { field: "eluent", label: "Eluent from there on", hint: "as it is" },
  { field: "flask", label: "Flask from there on", hint: "as it is" },
  { field: "note", label: "Note", hint: "as it is" },
];

/** The tube log: what was written, and a form to write more. What was typed stays until it is saved. */
export function LogSheet({ state, keeping, tubes, about, draft, onWrite, onRetry, onClose }: LogSheetProps) {
  const [typed, setTyped] = useState<TypedEntry>(draft.current ?? { tubes: about === null ? "" : String(about) });
  const [faults, setFaults] = useState<readonly { readonly field: EntryField; readonly message: string }[]>([]);
  const [sent, setSent] = useState(false);
  const form = useRef<HTMLFormElement>(null);
  useEffect(() => {
    if (!sent || keeping.waiting.length > 0) return;
    setSent(false);
    if (keeping.refused !== null) return;
    draft.current = null;
    setTyped({ tubes: "" });
  }, [sent, keeping]);
  const write = (event: Event) => {
    event.preventDefault();
    const parsed = parseEntry(typed, tubes);
    const found = "faults" in parsed ? parsed.faults : [];
    setFaults(found);
    if ("entry" in parsed) {
      setSent(true);
      onWrite(parsed.entry);
    } else form.current?.querySelector<HTMLElement>(`[name="${found[0].field}"]`)?.focus();
  };
  return (
    <Sheet title="Tube log" name="tubelog" onClose={onClose}>
      <p class="hint">
        {usualInWords(state.tubeLog.usualMl)} unless said otherwise. What you write stands above run.yaml, and counts at
        once for volumes, bench sheet and write-up.
      </p>
      <form ref={form} class="entry" onSubmit={write} noValidate>
        {FIELDS.map(({ field, label, hint }) => {
          const wrong = faults.some((f) => f.field === field);
          return (
            <label key={field} class={`for-${field}`}>
              {label}
              <input
                name={field}
                value={typed[field] ?? ""}
                placeholder={hint}
                inputMode={field === "volume" ? "decimal" : "text"}
                autocomplete="off"
                aria-invalid={wrong}
                aria-describedby={wrong ? `fault-${field}` : undefined}
                onInput={(event) => {
                  const next = { ...typed, [field]: event.currentTarget.value };
                  const said = FIELDS.some((f) => f.field !== "tubes" && next[f.field]);
                  draft.current = said ? next : null;
                  setTyped(next);
                }}
              />
            </label>
          );
        })}
        {faults.map(({ field, message }) => (
          <p key={field} class="why" id={`fault-${field}`} role="alert">
            {sentence(message)}.
          </p>
        ))}
        <button type="submit" class="primary" disabled={sent}>
          Write it down
        </button>
      </form>
      {keeping.refused !== null && (
        <p class="why" role="alert">
          Not kept: {keeping.refused}.
        </p>
      )}
      {keeping.trouble !== null && (
        <p class="why" role="alert">
          Not saved yet: {keeping.trouble}{" "}
          <button type="button" onClick={onRetry}>
            Try again
          </button>
        </p>
      )}
      <LogLines
        notes={state.tubeLog.notes}
        onStrike={(from, to, said) => onWrite({ from, to, ...struck(said) })}
        busy={keeping.waiting.length > 0}
      />
    </Sheet>
  );
}

function usualInWords(usualMl: number | null): string {
  return `${usualMl ?? 10} mL a tube`;
}

function struck(said: readonly SaidField[]): Partial<TubeEntry> {
  return Object.fromEntries(said.map((field) => [field === "volume" ? "volumeMl" : field, null]));
}
