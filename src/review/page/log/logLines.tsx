import type { LogNote, SaidField } from "../../../decisions/index.ts";

export interface LogLinesProps {
  readonly notes: readonly LogNote[];
  readonly busy: boolean;
  readonly onStrike: (from: number, to: number, said: readonly SaidField[]) => void;
}

/** What the log says, by tube; each line can be struck. */
export function LogLines({ notes, busy, onStrike }: LogLinesProps) {
  const inOrder = [...notes].sort((a, b) => a.from - b.from);
  if (inOrder.length === 0) return <p class="hint">Nothing was written yet.</p>;
  return (
    <ul class="loglines" aria-label="What the tube log says">
      {inOrder.map((note) => {
        const tubes = note.from === note.to ? `Tube ${note.from}` : `Tubes ${note.from}–${note.to}`;
        return (
          <li key={JSON.stringify(note)} data-logged={`${note.from}-${note.to}`}>
            <b>{tubes}</b>
            <span class="said">
              {noteInWords(note)}
              {!note.typed && <span class="soft"> (run.yaml)</span>}
            </span>
            <button type="button" disabled={busy} onClick={() => onStrike(note.from, note.to, saidOf(note))}>
              Strike<span class="unseen">: {tubes}</span>
            </button>
          </li>
        );
      })}
    </ul>
  );
}

/** What the log says of one tube; empty where it says nothing. */
export function loggedInWords(notes: readonly LogNote[], tube: number): string {
  const about = notes.filter((n) => n.from <= tube && tube <= n.to);
  return about
    .map((n) => noteInWords(n.from === tube ? n : { ...n, eluent: null, flask: null }))
    .filter(Boolean)
    .join("; ");
}

/** "12.5 mL; eluent hexane/EtOAc 3:1 from here on; cloudy". */
function noteInWords({ volumeMl, eluent, flask, note }: LogNote): string {
  return [
    volumeMl === null ? [] : `${volumeMl} mL`,
    eluent === null ? [] : `eluent ${eluent} from here on`,
    flask === null ? [] : `into flask ${flask} from here on`,
    note ?? [],
  ]
    .flat()
    .join("; ");
}

function saidOf({ volumeMl, eluent, flask, note }: LogNote): SaidField[] {
  const all = { volume: volumeMl, eluent, flask, note };
  return (Object.keys(all) as SaidField[]).filter((field) => all[field] !== null);
}
