import type { Decisions, Division, Finding, JournalLine } from "../model/index.ts";
import { NO_OVERRIDES, type Overrides, withAct } from "./fold.ts";

/** A line of the journal with what became of it. */
export interface HistoryEntry {
  readonly line: JournalLine;
  /** True where what it says still stands: not undone, not left behind by a return. */
  readonly stands: boolean;
  /** The division that it met; null: the suggestion. */
  readonly met: Division | null;
}

export interface Replayed {
  readonly decisions: Decisions;
  /** In the order of the journal. */
  readonly history: readonly HistoryEntry[];
  readonly findings: readonly Finding[];
}

/** The acts that stand at one moment, last first, with what they come to. */
interface Standing {
  readonly line: JournalLine | null;
  readonly before: Standing | null;
  readonly overrides: Overrides;
}

/** A step that can be taken back: from one standing to another, made by an act. */
interface Step {
  readonly act: number;
  readonly from: Standing;
  readonly to: Standing;
}

const NOTHING: Standing = { line: null, before: null, overrides: NO_OVERRIDES };

/**
 * Plays the journal from its beginning: the last word on everything, what can be undone and redone, and which acts
 * stand. Nothing is erased: an undo is a line of its own that points at an earlier one. What stands after a line depends
 * on the lines up to it alone. An undo, redo or return that fits nothing is passed over and told.
 */
export function replay(lines: readonly JournalLine[]): Replayed {
  let now = NOTHING;
  const past: Step[] = [];
  const ahead: Step[] = [];
  const after = new Map<number, Standing>([[0, NOTHING]]);
  const findings: Finding[] = [];
  const met: (Division | null)[] = [];
  const go = (step: Step) => {
    past.push(step);
    ahead.length = 0;
    now = step.to;
  };
  for (const line of lines) {
    const { id, act } = line;
    met.push(now.overrides.division);
    if (act.kind === "undo") {
      const step = past.at(-1);
      if (step?.act === act.of) {
        past.pop();
        ahead.push(step);
        now = step.from;
      } else findings.push(fitsNothing(line));
    } else if (act.kind === "redo") {
      const step = ahead.at(-1);
      if (step?.act === act.of) {
        ahead.pop();
        past.push(step);
        now = step.to;
      } else findings.push(fitsNothing(line));
    } else if (act.kind === "return") {
      const to = after.get(act.to);
      if (to !== undefined) go({ act: id, from: now, to });
      else findings.push(fitsNothing(line));
    } else go({ act: id, from: now, to: { line, before: now, overrides: withAct(now.overrides, line) } });
    after.set(id, now);
  }
  const standing = new Set<number>();
  for (let s: Standing | null = now; s?.line; s = s.before) standing.add(s.line.id);
  const last = lines.at(-1)?.id ?? 0;
  return {
    decisions: { last, ...now.overrides, undo: past.at(-1)?.act ?? null, redo: ahead.at(-1)?.act ?? null },
    history: lines.map((line, i) => ({ line, stands: standing.has(line.id), met: met[i] })),
    findings,
  };
}

function fitsNothing({ id, act }: JournalLine): Finding {
  const what = act.kind === "return" ? `a return to act ${act.to}` : `${act.kind} of act ${"of" in act ? act.of : ""}`;
  return {
    code: "decision-fits-nothing",
    message: `Act ${id} of the decisions, ${what}, fits no earlier one; it is passed over.`,
    remedy: "Look at the history, and return to the state you want.",
    where: {},
  };
}
